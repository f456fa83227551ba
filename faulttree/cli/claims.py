"""What a tree claims by saying nothing, what nothing in it exercises, and what visiting all of it shows.

For ``faulttree check -v`` and ``--explore``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.cases import run_case, unused
from faulttree.cli.report import COUNTABLE, counted
from faulttree.explore import Explored, explore
from faulttree.graph import graph_of
from faulttree.keys import Kind
from faulttree.library import LoadedLibrary
from faulttree.model import Fix, Library, Tree, Variant
from faulttree.proof import claims

GIVEN_UP = (str(Kind.FAILED), str(Kind.UNABLE), str(Kind.CANNOT))
"""Answers that are listed by kind, since most trees have one at every step."""


class Claim(NamedTuple):
    """That the operational check of a fix fails while any of these causes is still there."""

    fix: str
    check: str
    causes: tuple[str, ...]
    models: tuple[str, ...]

    @property
    def words(self) -> str:
        """The claim as a sentence."""
        on = f" (on {', '.join(self.models)})" if self.models else ""
        any_of = "any of " if len(self.causes) > 1 else ""
        return f"With {any_of}{', '.join(self.causes)} still there, {self.check} of {self.fix} fails.{on}"


def claims_of(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[tuple[str, list[Claim]]]:
    """The claims of each tree; what is claimed on every model is one claim."""
    for id in trees:
        found: dict[Claim, list[str]] = {}
        variants = loaded.trees[id].distinct_variants()
        for variant in variants:
            for claim in _claims(variant):
                found.setdefault(claim, []).append(variant.model)
        if found:
            every = len(variants)
            yield (
                id,
                [
                    claim._replace(models=() if len(models) == every else tuple(models))
                    for claim, models in found.items()
                ],
            )


def _claims(variant: Variant) -> Iterator[Claim]:
    for name, causes in claims(variant, graph_of(variant)):
        fix = variant.steps[name]
        if isinstance(fix, Fix):
            yield Claim(name, fix.operational_check or "the operational check", causes, ())


def claims_as_json(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[dict[str, object]]:
    """The claims as they stand in JSON; empty ``models`` are all models of the tree."""
    for id, claimed in claims_of(loaded, trees):
        for fix, check, causes, models in claimed:
            yield {
                "tree": id,
                "fix": fix,
                "operational_check": check,
                "causes": list(causes),
                "models": list(models),
            }


# -- what nothing exercises


class NotUsed(NamedTuple):
    """A step, or answers of a step, that no cause and no case comes to; empty ``models`` are all of the tree."""

    step: str
    answers: tuple[str, ...]
    models: tuple[str, ...] = ()


def not_used(library: Library, tree: Tree) -> list[NotUsed]:
    """What no cause and no case exercises; what is alike on every model is one."""
    found: dict[NotUsed, list[str]] = {}
    variants = tree.distinct_variants()
    for variant in variants:
        models = tree.models if tree.alike else (variant.model,)
        cases = [case for case in tree.cases if not case.model or case.model in models]
        steps, answers = unused(variant, [each for case in cases if (each := run_case(library, variant, case)).arrived])
        for step in variant.steps:
            given = tuple(answer for name, answer in answers if name == step)
            if step in steps or given:
                found.setdefault(NotUsed(step, given), []).append(variant.model)
    return [
        each._replace(models=() if len(models) == len(variants) else tuple(models)) for each, models in found.items()
    ]


def unused_in(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[tuple[str, list[str]]]:
    """For each tree, what no cause and no case comes to, as lines: steps, findings and failed checks, giving up."""
    for id in trees if loaded.library else ():
        lines = list(_unused_lines(not_used(loaded.library, loaded.trees[id]))) if loaded.library else []
        if lines:
            yield id, lines


def _unused_lines(found: Sequence[NotUsed]) -> Iterator[str]:
    by_models: dict[tuple[str, ...], list[NotUsed]] = {}
    for each in found:
        by_models.setdefault(each.models, []).append(each)
    for models, some in by_models.items():
        on = f" (on {', '.join(models)})" if models else ""
        if steps := [each.step for each in some if not each.answers]:
            yield f"steps{on}: {', '.join(steps)}"
        given_up = {kind: [each.step for each in some if kind in each.answers] for kind in GIVEN_UP}
        for step, answers, _ in some:
            if labels := [f'"{answer}"' for answer in answers if answer not in GIVEN_UP]:
                yield f"{step}{on}: {', '.join(labels)}"
        for kind, steps in given_up.items():
            if steps:
                yield f"{kind}{on}, at: {', '.join(steps)}"


def unused_as_json(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[dict[str, object]]:
    """The same as it stands in JSON; without answers the whole step is meant."""
    for id in trees if loaded.library else ():
        for step, answers, models in not_used(loaded.library, loaded.trees[id]) if loaded.library else ():
            yield {"tree": id, "step": step, "answers": list(answers), "models": list(models)}


# -- exploring


def explored_in(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """A line for each tree and model, with the rules that are broken there."""
    for tree, found in _explored(loaded, trees):
        on = "all models" if tree.alike and len(tree.models) > 1 else found.model
        yield (
            f"{tree.id}, {on}: {counted(found.steps, 'step')}, {counted(found.ways, 'way')}, "
            f"the longest {counted(found.longest, 'step')}; {counted(found.keys, 'state')} visited",
            found.broken,
        )


def explored_as_json(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[dict[str, object]]:
    """The same as it stands in JSON; ``ways`` is null where they are more than such a number can say."""
    for tree, found in _explored(loaded, trees):
        yield {
            "tree": tree.id,
            "models": list(tree.models) if tree.alike else [found.model],
            "steps": found.steps,
            "ways": found.ways if found.ways < COUNTABLE else None,
            "longest": found.longest,
            "states": found.keys,
            "broken": list(found.broken),
        }


def _explored(loaded: LoadedLibrary, trees: Sequence[str]) -> Iterator[tuple[Tree, Explored]]:
    if loaded.library is None:
        return
    for id in trees:
        tree = loaded.trees[id]
        for variant in tree.distinct_variants():
            yield tree, explore(loaded.library, variant, graph_of(variant))
