"""``faulttree ways``: every way through a tree, in words."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from faulttree.cells import broken
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.output import Bold, out, width
from faulttree.cli.parser import choice_of, examples
from faulttree.cli.report import counted
from faulttree.graph import graph_of
from faulttree.library import load_tree
from faulttree.model import Check, Fix, Library, Step, Tree, Variant
from faulttree.problems import ERROR, LibraryError, UsageError
from faulttree.reach import for_other, onward, prover
from faulttree.visible import one_line

USUAL_LIMIT = 200
MOST_TO_OFFER = 10_000
"""Nobody is advised to list more ways than this."""


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "List every way through a tree, in the words of its file. A way stops where the next step is for another role; "
        "without --as it is read as the first role of the library. Checks that are asked of nobody on a model are "
        "left out there."
    )
    parser.add_argument("tree", metavar="TREE", help="the id of a tree, or its file")
    parser.add_argument("--as", dest="role", metavar="ROLE", help="read it as this role; default: the first role")
    parser.add_argument("--model", metavar="MODEL", help="for this model; default: each that differs")
    parser.add_argument("--limit", type=_limit, default=USUAL_LIMIT, metavar="N", help="at most N ways; default: 200")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.epilog = examples(
        "faulttree ways cot-will-not-release",
        "faulttree ways cot-will-not-release --as mechanic --limit 20",
        "faulttree ways cot-will-not-release --format json",
    )


def _limit(text: str) -> int:
    if not text.isdecimal() or len(text) > 9 or int(text) < 1:
        from argparse import ArgumentTypeError

        raise ArgumentTypeError(f'"{text}" is no number of ways')
    return int(text)


def run(args: Namespace) -> ExitCode:
    """List the ways."""
    library, tree = load_sound_tree(args)
    role = args.role or library.first_role
    if role not in library.roles:
        raise UsageError(f'"{role}" is no role of this library', choice_of(role, tuple(library.roles)))
    variants = _variants(tree, args.model)
    if args.format == "json":
        from faulttree.cli.ways_json import list_as_json

        list_as_json(library, tree, variants, role, args.limit)
        return ExitCode.DONE
    for variant in variants:
        _list(library, tree, variant, role, args.limit)
    return ExitCode.DONE


def _variants(tree: Tree, model: str | None) -> Sequence[Variant]:
    if model is None:
        return tree.distinct_variants()
    if model not in tree.variants:
        raise UsageError(f'"{model}" is no model of "{tree.id}"', choice_of(model, tree.models))
    return (tree.variants[model],)


def load_sound_tree(args: Namespace) -> tuple[Library, Tree]:
    """The library and the tree that is named; raises `LibraryError` where their files have errors."""
    loaded = load_tree(library_of_tree(args, args.tree), args.tree, here())
    if loaded.library is None or not loaded.trees:
        errors = [problem for problem in loaded.problems if problem.severity == ERROR]
        advice = 'run "faulttree check" and mend what it finds'
        raise LibraryError(f'"{args.tree}" has problems that keep it from being read', advice, errors)
    return loaded.library, next(iter(loaded.trees.values()))


# -- the ways


class Way(NamedTuple):
    """The steps that are left with their answers, the step it stops at, and the role it is handed over to there."""

    steps: tuple[tuple[str, str], ...]
    last: str
    hand_over: str = ""
    proved: bool = True
    """Whether the fix that it stops at is done, so that only its operational check is handed over."""


class Link(NamedTuple):
    """A step with its answer, and the link before: ways that begin alike share their beginning."""

    before: Link | None
    step: str
    answer: str


def ways_of(library: Library, variant: Variant, role: str) -> Iterator[Way]:
    """Every way of ``role``, in file order. There can be very many: take what you need."""
    stack: list[tuple[str, Link | None]] = [(variant.start, None)]
    while stack:
        name, way = stack.pop()
        step = variant.steps[name]
        other = for_other(library, step, role)
        if other:
            yield Way(_unlinked(way), name, other, False)
            continue
        following = onward(library, variant, step, role)
        if not isinstance(step, Check) or not following:
            yield Way(_unlinked(way), name, prover(library, step, role))
        for answer, to in reversed(following):
            stack.append((to, Link(way, name, answer)))


def _unlinked(way: Link | None) -> tuple[tuple[str, str], ...]:
    steps = []
    while way is not None:
        steps.append((way.step, way.answer))
        way = way.before
    return tuple(reversed(steps))


def total_of(library: Library, tree: Tree, variant: Variant, role: str) -> int:
    """How many ways there are; raises `LibraryError` where the steps run in a circle."""
    total = count_ways(library, variant, role)
    if total is None:
        raise LibraryError(f'the steps of "{tree.id}" run in a circle', 'run "faulttree check" and mend it')
    return total


def count_ways(library: Library, variant: Variant, role: str) -> int | None:
    """How many ways ``ways_of`` gives, without making them; None where the steps run in a circle."""
    order = graph_of(variant).order
    if not order:
        return None
    ways: dict[str, int] = {}
    for name in reversed(order):
        step = variant.steps[name]
        if for_other(library, step, role):
            ways[name] = 1
            continue
        following = onward(library, variant, step, role)
        ways[name] = sum(ways[to] for _, to in following) + (not isinstance(step, Check) or not following)
    return ways[order[0]]


# -- in words


def _list(library: Library, tree: Tree, variant: Variant, role: str, limit: int) -> None:
    total = total_of(library, tree, variant, role)
    columns = width()
    on = f" on {variant.model}" if not tree.alike or len(tree.models) == 1 else ""
    heading = f"{one_line(tree.symptom)}{on}, as {role}: {counted(total, 'way')}"
    for line in broken(heading, columns):
        out(Bold(line))
    for number, way in enumerate(islice(ways_of(library, variant, role), limit), 1):
        out("")
        out(f"Way {number}")
        for text in words_of(library, variant, way):
            for line in broken(one_line(text), columns, "  ", "    "):
                out(line)
    out("")
    if total > limit:
        more = f"; --limit {total} lists all" if total <= MOST_TO_OFFER else ""
        for line in broken(f"These are {limit} of {counted(total, 'way')}{more}.", columns):
            out(line)
        out("")


def words_of(library: Library, variant: Variant, way: Way) -> Iterator[str]:
    """A way as lines: each step in its words with the answer, and where it comes to."""
    steps = variant.steps
    for name, answer in way.steps:
        yield f"{steps[name].title} - {_answer(steps[name], answer)}"
    last = steps[way.last]
    if way.hand_over and not way.proved:
        yield f"Hand over to {way.hand_over}: {last.title}"
    elif way.hand_over:
        yield f"{last.title} - hand over to {way.hand_over} for the operational check"
    elif isinstance(last, Fix):
        check = library.operational_checks.get(last.operational_check)
        yield f"{last.title} - operational check{f' ({check.text})' if check else ''} passed"
    else:
        yield last.title


def _answer(step: Step, answer: str) -> str:
    """An answer in words, with the reason that the file gives for going that way."""
    route = None
    if isinstance(step, Check):
        route = step.unable if answer == "unable" and step.finding(answer) is None else None
    elif answer in ("failed", "cannot"):
        route = step.failed if isinstance(step, Fix) and answer == "failed" else step.cannot
    said = "operational check failed" if isinstance(step, Fix) and answer == "failed" else answer
    return f"{said} ({route.why})" if route and route.why else said
