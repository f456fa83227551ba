"""Steps of one model: from a record whose values are those of the model to a `Check`, a `Fix` or an `End`.

Here accesses come into the step (role, people, notices), the wait into the fix, the ways of `otherwise` where none is
given, and `misses: others` is written out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import Any, NamedTuple

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


class Surroundings(NamedTuple):
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

    def here(self, causes: Iterable[str]) -> tuple[str, ...]:
        """The causes without those of other models only."""
        return tuple(cause for cause in causes if cause not in self.elsewhere) if self.elsewhere else tuple(causes)


def without(names: tuple[str, ...], gone: Set[str] | None) -> tuple[str, ...]:
    """The names that are not gone; all of them where none would be left, for then they are a mistake."""
    return tuple(name for name in names if name not in gone) or names if gone else names


def build_step(id: str, base: str, written: Record, around: Surroundings) -> Step:
    """The step ``id`` as it is for the model; ``base`` is the step that it repeats, else itself."""
    values = for_model(written, around.model)
    if "end" in values:
        return _end(id, values, around)
    if "fix" in values:
        return _fix(id, base, values, around)
    return _check(id, base, values, around)


def _way(name: str, id: str, values: Record, around: Surroundings) -> Route | None:
    """The way of that name: the step's own, else that of `otherwise` unless it leads to the step itself."""
    way = values.get(name)
    if way is None:
        way = around.otherwise.get(name)
        if way is None or way["to"] == id:
            return None
    return Route(**way)


# -- checks


def _check(id: str, base: str, values: Record, around: Surroundings) -> Check:
    table_only = type(values["findings"]) is tuple
    says = _band_says(values, around)
    usual = without(values.get("usual", ()), around.labels_elsewhere.get(base))
    return Check(
        **_work(id, base, "check", values, around.library),
        findings=_labels(values["findings"]) if table_only else _findings(values["findings"], says, around.model),
        unable=None if table_only else _way("unable", id, values, around),
        measure=values.get("measure", ""),
        sure=values.get("sure", 1.0),
        usual=usual,
        table_only=table_only,
    )


def _band_says(values: Record, around: Surroundings) -> dict[str, str]:
    """What the bands of the limit say, by label, where the check measures one."""
    limit = around.library.limits.get(values["measure"]) if "measure" in values else None
    scale = limit.scales.get(around.model) if limit else None
    return {band.label: band.says for band in scale.bands} if scale else {}


def _labels(labels: tuple[str, ...]) -> tuple[Finding, ...]:
    return tuple(Finding(label, number) for number, label in enumerate(labels, start=1))


def _findings(records: Mapping[str, Record], says: Mapping[str, str], model: str) -> tuple[Finding, ...]:
    """The findings of the model; the numbers count those of other models too."""
    found = []
    for number, (label, written) in enumerate(records.items(), start=1):
        if model in written.get("models", (model,)):
            values = for_model(written, model)
            get = values.get
            text = get("says") or says.get(label, "")
            found.append(Finding(label, number, values["goto"], text, get("opens", ()), get("closes", ())))
    return tuple(found)


# -- fixes and ends


def _fix(id: str, base: str, values: Record, around: Surroundings) -> Fix:
    get = values.get
    clears = around.here(values["clears"])
    return Fix(
        **_work(id, base, "fix", values, around.library),
        clears=clears,
        parts={part: str(count) for part, count in get("parts", {}).items()},
        torques=tuple(Torque(**torque) for torque in get("torque", ())),
        wait=max((_service(each, around.library) for each in get("consumables", ())), default=0.0),
        second_inspection=SecondInspection(**values["second_inspection"]) if "second_inspection" in values else None,
        operational_check=get("operational_check", ""),
        did=get("did", ""),
        recheck=_recheck(values),
        failed=_way("failed", id, values, around),
        cannot=_way("cannot", id, values, around),
        misses=_misses(get("misses", ()), clears, around),
        try_early=get("try_early", False),
        then=values["then"]["tree"] if "then" in values else "",
    )


def _service(consumable: str, library: Library) -> float:
    return library.consumables[consumable].service if consumable in library.consumables else 0.0


def _recheck(values: Record) -> Recheck | None:
    return Recheck(**values["recheck"]) if "recheck" in values else None


def _misses(misses: Any, clears: tuple[str, ...], around: Surroundings) -> tuple[str, ...]:
    if misses == OTHERS:
        return tuple(cause for cause in around.causes if cause not in clears)
    return around.here(misses)


def _end(id: str, values: Record, around: Surroundings) -> End:
    get = values.get
    return End(
        id=id,
        kind=values["end"],
        who=get("who", ""),
        do=get("do", ()),
        report=get("report", ""),
        recheck=_recheck(values),
        under=get("under", {}),
        until=get("until", ""),
        when=get("when", ()),
        cannot=_way("cannot", id, values, around) if values["end"] == "deferred" else None,
        to=get("to", ""),
        data=get("data", {}),
        tree=get("tree", ""),
        named=_named(values, around),
        reportable=get("reportable", False),
    )


def _named(values: Record, around: Surroundings) -> dict[str, tuple[str, ...]]:
    """The causes that the end answers for; of another tree's causes nothing is known here."""
    named = values.get("accepts", values.get("for", ()))
    there = named if type(named) is dict else {}
    return {cause: there.get(cause, ()) for cause in around.here(named)}


# -- what checks and fixes have in common


def _work(id: str, base: str, text: str, values: Record, library: Library) -> dict[str, Any]:
    """The fields of `Work`, what the accesses ask for included."""
    get = values.get
    accesses = [library.accesses[name] for name in get("access", ()) if name in library.accesses]
    lift = Lift(**values["lift"]) if "lift" in values else None
    own_notices = get("notices", ())
    return {
        "id": id,
        "base": base,
        "text": values[text],
        "who": who_may((values["who"], *(each.who for each in accesses)), library) if accesses else values["who"],
        "do": get("do", ()),
        "minutes": get("minutes"),
        "people": max(get("people", 1), lift.people if lift else 1, *(each.people for each in accesses), 1),
        "lift": lift,
        "tools": get("tools", ()),
        "consumables": get("consumables", ()),
        "notices": tuple(dict.fromkeys([*_notices(accesses), *own_notices])) if accesses else own_notices,
        "accesses": get("access", ()),
        "opens": get("opens", ()),
        "closes": get("closes", ()),
        "occupied": "occupied" in values,
        "data": get("data", {}),
        "picture": get("picture", ""),
    }


def _notices(accesses: Iterable[Any]) -> Iterable[str]:
    return (notice for access in accesses for notice in access.notices)


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
