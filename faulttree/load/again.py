"""Steps that repeat another step: `again` put together with the check or fix that it names.

After this a step that repeats another is a record like any other, with the base's name beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.load.fields import Record
from faulttree.load.models import Scope, Trouble, advice_for, troubles_of
from faulttree.load.nodes import THE_KEY

WAYS = {"unable": "check", "failed": "fix", "cannot": "fix"}
"""The ways that a step may go by when it was not done or did not help, with the kind of step that has them."""


class Written(NamedTuple):
    """A step as the file has it, `again` resolved: the base's name, the record, and the models that it is for."""

    base: str
    record: Record
    models: Sequence[str]


def written(id: str, steps: dict[str, Record], models: Sequence[str]) -> Written:
    """The step of this name; its `again`, if it is one, must be free of troubles."""
    own = steps[id]
    if "again" not in own:
        return Written(id, own, own.get("models", models))
    base: str = own["again"]
    record = steps[base] | {key: own[key] for key in WAYS if key in own}
    if "findings" in own:
        record["findings"] = {
            label: finding | own["findings"][label] for label, finding in steps[base]["findings"].items()
        }
    inherited: Sequence[str] = record.get("models", models)
    return Written(base, record, own.get("models", inherited))


def troubles_of_again(id: str, steps: dict[str, Record], scope: Scope) -> Iterator[Trouble]:
    """What is wrong with the step ``id``, an `again`: its base, its labels, its ways, its models."""
    own = steps[id]
    base = steps.get(own["again"])
    if base is None or "end" in base or "again" in base:
        yield _no_base(id, steps)
        return
    of_base: Sequence[str] = base.get("models", scope.tree)
    models: Sequence[str] = own.get("models", of_base)
    path = ("steps", id)
    for index, model in enumerate(models):
        if model in scope.tree and model not in of_base:
            message = f'the step "{own["again"]}" that is repeated here is not for model "{model}"'
            yield Trouble("model-unknown", (*path, "models", index), message, "delete it here, or add it there")
    for way, kind in WAYS.items():
        if way in own and (kind not in base or type(base.get("findings")) is tuple):
            yield _no_such_way(id, way, own["again"])
    yield from troubles_of(own, models, scope, path)
    if "findings" in own:
        yield from _troubles_of_labels(id, own, base, models, scope)


def _no_base(id: str, steps: dict[str, Record]) -> Trouble:
    name = steps[id]["again"]
    base = steps.get(name, {})
    path = ("steps", id, "again")
    if "again" in base:
        message = f'the step "{name}" repeats a step itself'
        return Trouble("again-of-again", path, message, f'write "again: {base["again"]}"')
    if "end" in base:
        message = f'the step "{name}" is an end and cannot be repeated'
        return Trouble("again-unknown", path, message, "lead to that end instead")
    bases = [each for each, record in steps.items() if "check" in record or "fix" in record]
    other = "name a check or a fix of this tree"
    return Trouble("again-unknown", path, f'there is no step "{name}" to repeat', advice_for(name, bases, other))


def _no_such_way(id: str, way: str, base: str) -> Trouble:
    message = f'the step "{base}" that is repeated here has no "{way}"'
    return Trouble("again-label", ("steps", id, way, THE_KEY), message, f'delete "{way}"')


def _troubles_of_labels(id: str, own: Record, base: Record, models: Sequence[str], scope: Scope) -> Iterator[Trouble]:
    """Labels that the base has not, labels that are left out, and ways that leave out a model."""
    path = ("steps", id, "findings")
    have = base.get("findings")
    if type(have) is not dict:
        message = f'the step "{own["again"]}" that is repeated here has no findings with ways'
        yield Trouble("again-label", (*path, THE_KEY), message, 'delete "findings"')
        return
    for label, finding in own["findings"].items():
        if label not in have:
            message = f'the check "{own["again"]}" that is repeated here has no finding "{label}"'
            other = "use the labels of that check"
            yield Trouble("again-label", (*path, label, THE_KEY), message, advice_for(label, have, other))
        else:
            mine = [model for model in models if model in have[label].get("models", scope.tree)]
            yield from troubles_of(finding, mine, scope, (*path, label))
    for label in have:
        if label not in own["findings"]:
            message = f'the finding "{label}" of the check "{own["again"]}" is left out'
            yield Trouble("again-label", (*path, THE_KEY), message, f'write where "{label}" leads')
