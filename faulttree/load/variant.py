"""A tree for one model: its steps and causes, with the checks passed over that have one finding left for it."""

from __future__ import annotations

from collections.abc import Mapping, Set
from typing import Any

from faulttree.load.again import Written
from faulttree.load.fields import Each, Record
from faulttree.load.models import for_model
from faulttree.load.steps import Surroundings, build_step, without
from faulttree.model import Cause, Check, Fix, Library, Route, Step, Variant
from faulttree.value import construct, defaults, replace


def build_plain(record: Record, steps: Mapping[str, Written], model: str, library: Library) -> Variant:
    """The tree for ``model`` where nothing in it is for one model or for some only."""
    causes = record["causes"]
    around = Surroundings(library, model, record.get("otherwise", {}), tuple(causes), frozenset(), {}, True)
    return Variant(
        model=model,
        start=record["start"],
        steps={id: build_step(id, step.base, step.record, around) for id, step in steps.items()},
        causes={id: _cause(id, cause, cause.get("shows", {})) for id, cause in causes.items()},
    )


def build_variant(record: Record, steps: Mapping[str, Written], model: str, library: Library) -> Variant:
    """The tree for ``model``. Steps and causes that are for other models only are left out."""
    causes = {id: cause for id, cause in record["causes"].items() if model in cause.get("models", (model,))}
    labels = {id: _labels_elsewhere(step.record, model) for id, step in steps.items() if step.base == id}
    elsewhere = record["causes"].keys() - causes.keys()
    around = Surroundings(library, model, record.get("otherwise", {}), tuple(causes), elsewhere, labels, False)
    built = {id: build_step(id, step.base, step.record, around) for id, step in steps.items() if model in step.models}
    passed = _passed_over(built, steps)
    kept = _kept(built, passed)
    unasked = {id for id, step in steps.items() if step.base == id and "check" in step.record}
    unasked -= {step.base for step in kept.values() if isinstance(step, Check)}
    return Variant(
        model=model,
        start=_led_on(for_model({"start": record["start"]}, model)["start"], passed),
        steps=kept,
        causes={id: _cause(id, cause, _shows(cause, model, labels, unasked)) for id, cause in causes.items()},
        passed_over=passed,
    )


def _labels_elsewhere(values: Record, model: str) -> frozenset[str]:
    """The labels of a check that are for other models only."""
    findings = values.get("findings")
    if type(findings) is not dict:
        return frozenset()
    return frozenset(label for label, finding in findings.items() if model not in finding.get("models", (model,)))


def _shows(values: Record, model: str, labels: Mapping[str, Set[str]], unasked: Set[str]) -> dict[str, Any]:
    """What a cause shows for ``model``. Checks in ``unasked`` are not asked for it, so nothing is shown there."""
    return {
        check: without(shown[model] if type(shown) is Each else shown, labels.get(check))
        for check, shown in values.get("shows", {}).items()
        if check not in unasked
    }


def _cause(id: str, values: Record, shows: Mapping[str, tuple[str, ...]]) -> Cause:
    made = defaults(Cause)
    made |= values
    made.pop("models", None)
    made["id"] = id
    made["text"] = made.pop("is")
    made["shows"] = shows
    return construct(Cause, made)


# -- checks with one finding left


def _passed_over(built: Mapping[str, Step], steps: Mapping[str, Written]) -> dict[str, str]:
    """The checks of which the file has several findings and the model one, with where they lead in the end."""
    passed = {
        id: step.findings[0].goto
        for id, step in built.items()
        if isinstance(step, Check) and len(step.findings) == 1 < len(steps[id].record["findings"])
    }
    for id in [each for each in passed if _leads_back(each, passed)]:
        del passed[id]
    return {id: _led_on(id, passed) for id in passed}


def _leads_back(id: str, passed: Mapping[str, str]) -> bool:
    """Whether the checks from ``id`` on lead round to it; they are kept, so that the loop is found."""
    to, seen = passed[id], set[str]()
    while to in passed and to != id and to not in seen:
        seen.add(to)
        to = passed[to]
    return to == id


def _led_on(to: str, passed: Mapping[str, str]) -> str:
    """Where a way to ``to`` leads, past the checks that are passed over."""
    while to in passed:
        to = passed[to]
    return to


def _kept(built: dict[str, Step], passed: Mapping[str, str]) -> dict[str, Step]:
    """The steps that are left, their ways led past those that are passed over."""
    if not passed:
        return built
    return {id: _with_ways(step, passed) for id, step in built.items() if id not in passed}


def _with_ways(step: Step, passed: Mapping[str, str]) -> Step:
    if isinstance(step, Check):
        findings = tuple(replace(each, goto=_led_on(each.goto, passed)) for each in step.findings)
        return replace(step, findings=findings, unable=_route(step.unable, passed))
    if isinstance(step, Fix):
        return replace(step, failed=_route(step.failed, passed), cannot=_route(step.cannot, passed))
    return replace(step, cannot=_route(step.cannot, passed))


def _route(route: Route | None, passed: Mapping[str, str]) -> Route | None:
    return replace(route, to=_led_on(route.to, passed)) if route else None
