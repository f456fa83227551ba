"""Values that may be one for each model: which are, what they leave out, and the values of one model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from faulttree.load.fields import Each, Record
from faulttree.load.nodes import THE_KEY, Node, Path, Table, where
from faulttree.problems import ERROR, Problem
from faulttree.value import Value


class Trouble(NamedTuple):
    """A problem before its place in the text is looked up: it stands at ``path`` of the file's data."""

    rule: str
    path: Path
    message: str
    help: str


def problem_of(trouble: Trouble, root: Node | None, file: str) -> Problem:
    """The trouble as a problem of ``file``."""
    rule, path, message, advice = trouble
    return Problem(rule, ERROR, message, advice, file, where(root, as_written(root, path)))


def as_written(root: Node | None, path: Path) -> Path:
    """``path`` without what was written in short: the `goto` of a finding, the model of a value for all models."""
    node, written = root, list[str | int]()
    for part, following in zip(path, (*path[1:], None), strict=True):
        entries = node.entries if isinstance(node, Table) else {}
        entry = entries.get(str(part))
        if entry is not None or (part != "goto" and following not in entries):
            written.append(part)
        node = node if entry is None else entry.value
    return tuple(written)


def advice_for(word: str, known: Iterable[str], other: str) -> str:
    """What to write instead of ``word``: the known word that is most like it, else ``other``."""
    from difflib import get_close_matches

    like = get_close_matches(word, list(known), n=1)
    return f'write "{like[0]}"' if like else other


class Scope(Value):
    """The models that may be named: those of the library, and those of the tree (in shared files, the same)."""

    library: Sequence[str]
    tree: Sequence[str]

    def unknown(self, names: Iterable[str], path: Path, in_list: bool = False) -> Iterator[Trouble]:
        """The names that are no models here. ``in_list``: they are items at ``path``, else keys."""
        for index, name in enumerate(names):
            if name not in self.tree:
                place = (*path, index) if in_list else (*path, name, THE_KEY)
                yield Trouble("model-unknown", place, *self._words(name))

    def _words(self, name: str) -> tuple[str, str]:
        if name in self.library:
            return f'the tree is not for model "{name}"', "delete it, or add it to the models of the tree"
        every = ", ".join(f'"{each}"' for each in self.tree)
        return f'there is no model "{name}"', advice_for(name, self.tree, f"use the models' names: {every}")


def troubles_of(values: Record, owner: Sequence[str], scope: Scope, path: Path) -> Iterator[Trouble]:
    """The values of a record that leave out a model of their owner or name one that is not there."""
    for key, value in values.items():
        if type(value) is Each:
            yield from troubles_of_each(value, owner, scope, (*path, key))


def troubles_of_each(value: Each, owner: Sequence[str], scope: Scope, path: Path) -> Iterator[Trouble]:
    """The same for one value that is one for each model."""
    yield from scope.unknown(value, path)
    for model in owner:
        if model in scope.tree and model not in value:
            message = f'model "{model}" is left out of "{path[-1]}"'
            yield Trouble("model-left-out", path, message, f'write a value for "{model}" as well')


def depends(values: Record) -> bool:
    """Whether any value of the record itself is one for each model."""
    return Each in map(type, values.values())


def is_plain(tree: Record) -> bool:
    """Whether a tree has no value that is one for each model, and nothing that is for some models only."""
    for cause in tree["causes"].values():
        if "models" in cause or Each in map(type, cause.get("shows", {}).values()):
            return False
    for step in tree["steps"].values():
        if "models" in step or Each in map(type, step.values()):
            return False
        findings = step.get("findings")
        for finding in findings.values() if type(findings) is dict else ():
            if type(finding["goto"]) is Each or "models" in finding or type(finding.get("says")) is Each:
                return False
    return type(tree["start"]) is not Each


def for_model(values: Record, model: str) -> Record:
    """The record with the values of ``model``."""
    if not depends(values):
        return values
    return {key: value[model] if type(value) is Each else value for key, value in values.items()}


def spread(value: Any, models: Iterable[str]) -> dict[str, Any]:
    """A value by model, whether it is one for all or one for each."""
    return (
        {model: value[model] for model in models if model in value}
        if type(value) is Each
        else dict.fromkeys(models, value)
    )
