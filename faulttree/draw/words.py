"""What stands in the box of a step: notices first, then the head, the step in its own words, and what follows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from faulttree.draw.figure import Border, Row
from faulttree.draw.limits import limit_facts, readings_of
from faulttree.model import Access, Check, Consumable, End, Fix, Library, Notice, Step, Tool, Variant, Work
from faulttree.present.blocks import document_words, one_or_more, sentence, sentences
from faulttree.units import format_quantity
from faulttree.value import replace, stated

SIGNS = {"warning": "▲ WARNING", "caution": "■ CAUTION"}
"""A triangle and a square, as on the screen; never without the word."""

ROUTES = frozenset({"findings", "unable", "failed", "cannot"})


def border_of(library: Library, role: str) -> Border:
    """The first role has a single border, a role that includes it a double one, others a dashed one."""
    if not role or role == library.first_role:
        return "single"
    return "double" if library.first_role in library.roles[role].covers else "dashed"


def notice_rows(library: Library, names: Sequence[str]) -> tuple[Row, ...]:
    """A row for the warnings and one for the cautions, by their names in the library; notes have none."""
    found = library.notices_named(names) if names else ()
    rows = []
    for signal, sign in SIGNS.items() if found else ():
        named = [notice.id.replace("-", " ") for notice in found if notice.signal == signal]
        if named:
            rows.append(Row("notice", f"{sign} {', '.join(named)}"))
    return tuple(rows)


def notice_texts(library: Library, names: Sequence[str]) -> tuple[str, ...]:
    """The notices in full, one text each."""
    return tuple(_in_full(notice) for notice in library.notices_named(names)) if names else ()


def _in_full(notice: Notice) -> str:
    if notice.signal == "note":
        return " ".join(("NOTE:", *sentences(notice.text)))
    texts = (sentence(notice.hazard), sentence(notice.result), *sentences(notice.avoid))
    return " ".join((f"{notice.signal.upper()}:", *texts))


def head_of(step: Step, figures: bool) -> str:
    """Kind, role, minutes."""
    if isinstance(step, End):
        return " · ".join(filter(None, ("END", step.who)))
    minutes = f"{step.minutes:g} min" if figures and step.minutes is not None else ""
    return " · ".join(filter(None, ("CHECK" if isinstance(step, Check) else "FIX", step.who, minutes)))


def needs_of(library: Library, step: Step) -> str:
    """People, and whether it may be done while somebody is on the equipment."""
    if isinstance(step, End):
        return ""
    people = f"{step.people} people" if step.people > 1 else ""
    return " · ".join(filter(None, (people, "may be occupied" if step.occupied and library.occupant else "")))


def rows_of(library: Library, variant: Variant, step: Step, figures: bool, prover: str) -> Iterator[Row]:
    """What stands below the head. ``prover`` is who has to make the operational check, where it is another role."""
    yield Row("text", step.title)
    yield from _left(library, step)
    if isinstance(step, Check):
        yield from _about_check(library, step)
    elif isinstance(step, Fix):
        yield from _about_fix(step)
        yield from _proof(library, variant, step, figures, prover)
    else:
        yield from _about_end(step)


def _left(library: Library, step: Step) -> Iterator[Row]:
    """What is open after the step that was not before, and the other way round."""
    opening = step.accesses if isinstance(step, Work) else ()
    accesses = [library.accesses[name] for name in opening if name in library.accesses]
    closes = step.closes if isinstance(step, Work) else ()
    opened = dict.fromkeys((*step.opens, *(name for access in accesses for name in access.opens)))
    closed = dict.fromkeys((*closes, *(name for access in accesses for name in access.closes)))
    for word, names, again in (("leaves open", opened, closed), ("closes", closed, opened)):
        left = [name.replace("-", " ") for name in names if name not in again]
        if left:
            yield Row("text", f"{word}: {', '.join(left)}")


def _about_check(library: Library, step: Check) -> Iterator[Row]:
    limit = library.limits.get(step.measure)
    if limit:
        yield Row("text", f"measured: {limit.text}")
    if step.sure < 1:
        yield Row("text", "a matter of feel")


def _about_fix(step: Fix) -> Iterator[Row]:
    yield Row("text", f"clears {', '.join(step.clears)}")
    if step.parts:
        counts = ((name, count) for name, count in step.parts.items())
        yield Row("text", "parts " + ", ".join(f"{n} x {name}" if n.isdigit() else f"{name} {n}" for name, n in counts))
    if step.lift:
        yield Row("text", f"lift {step.lift.mass:g} kg by {one_or_more(step.lift.people, 'person', 'people')}")
    if step.try_early:
        yield Row("text", "may be tried early")
    if step.second_inspection:
        yield Row("text", f"SECOND INSPECTION by another {step.inspector}: {step.second_inspection.look}")


def _proof(library: Library, variant: Variant, step: Fix, figures: bool, prover: str) -> Iterator[Row]:
    check = library.operational_checks.get(step.operational_check)
    if not check:
        return
    yield Row("rule")
    if step.wait:
        yield Row("text", f"wait {step.wait:g} min" if figures else "wait as the consumable asks")
    yield from notice_rows(library, check.notices)
    minutes = check.minutes.get(variant.model)
    parts = (check.text, check.who, f"{minutes:g} min" if figures and minutes is not None else "")
    if prover:
        yield Row("text", f"HAND OVER to {prover} for the operational check: {check.text}")
        return
    yield Row("text", f"Operational check: {' · '.join(filter(None, parts))}")
    yield Row("text", "PASSED: fault corrected, ends here")
    if step.then:
        yield Row("text", f"then tree {step.then} is offered")


def _about_end(step: End) -> Iterator[Row]:
    if step.named:
        yield Row("text", f"for {', '.join(step.named)}")
    for document, section in (step.under or step.data).items():
        yield Row("text", f"{document} {section}")
    if step.until:
        yield Row("text", f"until {step.until}")
    if step.recheck:
        yield Row("text", f"look again: {step.recheck.after}, {step.recheck.who}")
    if step.reportable:
        yield Row("text", "to be reported")


def facts_of(library: Library, variant: Variant, step: Step) -> dict[str, Any]:
    """What a comparison looks at, by the word for it or by the name of the field."""
    fields = {name: value for name, value in stated(step).items() if name not in ROUTES | {"id"}}
    fields["kind"] = type(step).__name__, fields.get("kind")
    facts = {
        "role": fields.pop("who"),
        "wording": (fields.pop("text", ""), fields.pop("do"), fields.pop("report", ""), fields.pop("did", "")),
        "minutes": fields.pop("minutes", None),
    }
    check = library.operational_checks.get(fields.pop("operational_check", ""))
    facts["warnings"] = _said(library, fields.pop("notices", ()))
    facts["warnings before the operational check"] = _said(library, check.notices if check else ())
    facts["operational check"] = check and {k: v for k, v in stated(check).items() if k not in ("notices", "limits")}
    limits = (fields.get("measure", ""), *fields.pop("limits", ()), *(check.limits if check else ()))
    facts["limits"] = limit_facts(library, variant.model, limits)
    if isinstance(step, Fix):
        facts["torque"] = torques_of(step)
        fields.pop("torques")
        look = fields.pop("second_inspection")
        facts["second_inspection"] = look and replace(look, who=step.inspector)
    if isinstance(step, Check):
        facts["findings"] = [(each.label, each.says, each.opens, each.closes) for each in step.findings]
    return {**facts, **fields}


def _said(library: Library, names: Iterable[str]) -> dict[str, Any]:
    """What each notice says, by signal word and name."""
    return {
        f"{each.signal.upper()} {each.id.replace('-', ' ')}": (each.hazard, each.result, each.avoid, each.text)
        for each in library.notices_named(names)
    }


def edge_notes(library: Library, variant: Variant, step: Check) -> Mapping[str, str]:
    """By finding of a measured check, the readings of its band."""
    limit = library.limits.get(step.measure)
    return readings_of(limit, variant.model) if limit else {}


def torques_of(step: Fix) -> tuple[str, ...]:
    """The torques of a fix, one text each."""
    return tuple(f"{each.where}: {format_quantity(each.value, 'N·m')}" for each in step.torques)


def details_of(library: Library, variant: Variant, step: Step) -> Iterator[str]:
    """What a drawing has no room for: where the step is done, with what, by which data, and how it is proved."""
    if isinstance(step, End):
        yield from (f"Report: {step.report}",) if step.report else ()
        return
    for word, names in (
        ("Access", [_text(library.accesses, name) for name in step.accesses]),
        ("Tools", [_text(library.tools, name) for name in step.tools]),
        ("Consumables", [_text(library.consumables, name) for name in step.consumables]),
        ("Data", document_words(library, step.data)),
        ("Torque", torques_of(step) if isinstance(step, Fix) else ()),
    ):
        if names:
            yield f"{word}: {', '.join(names)}"
    check = library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
    yield from (f"Operational check: {line}" for line in (check.lines(variant.model) if check else ()))


def _text(entries: Mapping[str, Access] | Mapping[str, Consumable] | Mapping[str, Tool], name: str) -> str:
    return entries[name].text if name in entries else name
