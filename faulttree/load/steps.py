"""Steps of one model: from a record whose values are those of the model to a `Check`, a `Fix` or an `End`.

Here accesses come into the step (role, people, notices), the wait into the fix, the ways of `otherwise` where none is
given, and `misses: others` is written out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import Any

from faulttree.load.fields import Record
from faulttree.load.models import for_model
from faulttree.model import (
    OTHERS,
    Check,
    End,
    Finding,
    Fix,
    Library,
    Lift,
    Recheck,
    Route,
    SecondInspection,
    Step,
    Torque,
)
from faulttree.value import Value, construct, defaults

WORK_FIELDS = {
    "check": "text",
    "fix": "text",
    "access": "accesses",
    **{key: key for key in ("who", "do", "minutes", "people", "tools", "consumables", "notices", "opens", "closes")},
    **{key: key for key in ("data", "picture", "measure", "sure", "limits", "operational_check", "did", "try_early")},
}
"""The keys of checks and fixes whose values become fields as they are."""

END_FIELDS = {
    "end": "kind",
    **{
        key: key
        for key in ("who", "do", "report", "opens", "under", "until", "when", "to", "data", "tree", "reportable")
    },
}
"""The same of ends."""


class Surroundings(Value):
    """What a step of one model is built from beside its own record."""

    library: Library
    model: str
    otherwise: Mapping[str, Record]
    causes: tuple[str, ...]
    """The causes of the model."""
    elsewhere: Set[str]
    """Causes of other models only; naming one here says nothing."""
    labels_elsewhere: Mapping[str, Set[str]]
    """By base check, the labels that are for other models only."""
    plain: bool
    """Whether no record of the tree has a value for each model or is for some models only."""

    def here(self, causes: tuple[str, ...]) -> tuple[str, ...]:
        """The causes without those of other models only."""
        return tuple(cause for cause in causes if cause not in self.elsewhere) if self.elsewhere else causes


def without(names: tuple[str, ...], gone: Set[str] | None) -> tuple[str, ...]:
    """The names that are not gone; all of them where none would be left, for then they are a mistake."""
    return tuple(name for name in names if name not in gone) or names if gone else names


def build_step(id: str, base: str, written: Record, around: Surroundings) -> Step:
    """The step ``id`` as it is for the model; ``base`` is the step that it repeats, else itself."""
    values = written if around.plain else for_model(written, around.model)
    if "end" in values:
        return _end(id, values, around)
    if "fix" in values:
        return _fix(id, base, values, around)
    return _check(id, base, values, around)


def _as_they_are(kind: type, values: Record, fields: Mapping[str, str]) -> Record:
    """The fields of ``kind``: its defaults, and the values of the keys that become ``fields`` as they are."""
    made = defaults(kind)
    for key, value in values.items():
        if key in fields:
            made[fields[key]] = value
    return made


def _way(name: str, id: str, values: Record, around: Surroundings) -> Route | None:
    """The way of that name: the step's own, else that of `otherwise` unless it leads to the step itself."""
    way = values.get(name)
    if way is None:
        way = around.otherwise.get(name)
        if way is None or way["to"] == id:
            return None
    return construct(Route, {**defaults(Route), **way})


# -- checks


def _check(id: str, base: str, values: Record, around: Surroundings) -> Check:
    made = _work(Check, id, base, values, around.library)
    findings = values["findings"]
    if type(findings) is tuple:
        made["findings"] = tuple(Finding(label, number) for number, label in enumerate(findings, start=1))
        made["table_only"] = True
    else:
        made["findings"] = _findings(findings, _band_says(values, around), around)
        made["unable"] = _way("unable", id, values, around)
    if "usual" in values:
        made["usual"] = without(values["usual"], around.labels_elsewhere.get(base))
    return construct(Check, made)


def _band_says(values: Record, around: Surroundings) -> dict[str, str]:
    """What the bands of the limit say, by label, where the check measures one."""
    limit = around.library.limits.get(values["measure"]) if "measure" in values else None
    scale = limit.scales.get(around.model) if limit else None
    return {band.label: band.says for band in scale.bands} if scale else {}


def _findings(records: Mapping[str, Record], says: Mapping[str, str], around: Surroundings) -> tuple[Finding, ...]:
    """The findings of the model; the numbers count those of other models too."""
    found = []
    model = around.model
    for number, (label, written) in enumerate(records.items(), start=1):
        if around.plain or model in written.get("models", (model,)):
            values = written if around.plain else for_model(written, model)
            made = defaults(Finding)
            made |= {"label": label, "number": number, **values}
            made["says"] = made["says"] or says.get(label, "")
            made.pop("models", None)
            found.append(construct(Finding, made))
    return tuple(found)


# -- fixes and ends


def _fix(id: str, base: str, values: Record, around: Surroundings) -> Fix:
    made = _work(Fix, id, base, values, around.library)
    made["clears"] = around.here(values["clears"])
    made["failed"] = _way("failed", id, values, around)
    made["cannot"] = _way("cannot", id, values, around)
    if "parts" in values:
        made["parts"] = {part: str(count) for part, count in values["parts"].items()}
    if "torque" in values:
        made["torques"] = tuple(Torque(**torque) for torque in values["torque"])
    if "consumables" in values:
        made["wait"] = max(_service(each, around.library) for each in values["consumables"])
    if "second_inspection" in values:
        made["second_inspection"] = SecondInspection(**values["second_inspection"])
    if "recheck" in values:
        made["recheck"] = Recheck(**values["recheck"])
    if "misses" in values:
        made["misses"] = _misses(values["misses"], made["clears"], around)
    if "then" in values:
        made["then"] = values["then"]["tree"]
    return construct(Fix, made)


def _service(consumable: str, library: Library) -> float:
    return library.consumables[consumable].service if consumable in library.consumables else 0.0


def _misses(misses: Any, clears: tuple[str, ...], around: Surroundings) -> tuple[str, ...]:
    if misses == OTHERS:
        return tuple(cause for cause in around.causes if cause not in clears)
    return around.here(misses)


def _end(id: str, values: Record, around: Surroundings) -> End:
    made = _as_they_are(End, values, END_FIELDS)
    made["id"] = id
    made["named"] = _named(values, around)
    if "recheck" in values:
        made["recheck"] = Recheck(**values["recheck"])
    if values["end"] == "deferred":
        made["cannot"] = _way("cannot", id, values, around)
    return construct(End, made)


def _named(values: Record, around: Surroundings) -> dict[str, tuple[str, ...]]:
    """The causes that the end answers for; of another tree's causes nothing is known here."""
    named: Any = values.get("accepts", values.get("for", ()))
    there = named if type(named) is dict else {}
    return {cause: there.get(cause, ()) for cause in around.here(tuple(named))}


# -- what checks and fixes have in common


def _work(kind: type, id: str, base: str, values: Record, library: Library) -> Record:
    """The fields of `Work`, what the accesses ask for included, beside those of ``kind`` that are as written."""
    made = _as_they_are(kind, values, WORK_FIELDS)
    made["id"] = id
    made["base"] = base
    made["occupied"] = "occupied" in values
    if "lift" in values:
        made["lift"] = Lift(**values["lift"])
        made["people"] = max(made["people"], made["lift"].people)
    if "access" in values:
        accesses = [library.accesses[name] for name in values["access"] if name in library.accesses]
        made["who"] = who_may((values["who"], *(each.who for each in accesses)), library)
        made["people"] = max((made["people"], *(each.people for each in accesses)))
        theirs = [notice for access in accesses for notice in access.notices]
        made["notices"] = tuple(dict.fromkeys((*theirs, *made["notices"])))
    return made


def who_may(needed: Iterable[str], library: Library) -> str:
    """The role that may do what is for each of the ``needed`` roles; the first of these where no role may do it all.

    One of the needed roles if it covers the others: nobody else is asked for than is needed. Else the first in the
    order of the library.
    """
    roles = [role for role in dict.fromkeys(needed) if role]
    for role in (*(role for role in library.roles if role in roles), *library.roles):
        if all(library.may(role, who) for who in roles):
            return role
    return roles[0]
