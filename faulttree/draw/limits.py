"""Limits in the words of a drawing: the readings of each band, and what of a limit became another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from faulttree.model import Band, Library, Limit
from faulttree.units import format_quantity

Facts = Mapping[str, Mapping[str, str]]
"""By limit, what it says on one model: a text for each band, for the range, for what it is set to and for its words."""

NOTHING = "nothing"


def readings_of(limit: Limit, model: str) -> dict[str, str]:
    """By band, its readings in words; none where the limit has no numbers for the model."""
    scale = limit.scales.get(model)
    if not scale:
        return {}
    below = (None, *scale.bands)
    return {band.label: _readings(limit, before, band) for before, band in zip(below, scale.bands, strict=False)}


def _readings(limit: Limit, before: Band | None, band: Band) -> str:
    """A band in words that stand for themselves."""
    if band.limit is None:
        if before is None or before.limit is None:
            return ""
        return f"{'above' if before.inclusive else 'from'} {format_quantity(before.limit, limit.unit)}"
    end = format_quantity(band.limit, limit.unit)
    if before is None or before.limit is None:
        return f"{'up to' if band.inclusive else 'below'} {end}"
    return f"{'above' if before.inclusive else 'from'} {before.limit:g} {'to' if band.inclusive else 'to below'} {end}"


def limit_facts(library: Library, model: str, names: Iterable[str]) -> Facts:
    """What a comparison looks at of these limits; names that are no limit have nothing."""
    return {name: _facts(library.limits[name], model) for name in names if name in library.limits}


def _facts(limit: Limit, model: str) -> Mapping[str, str]:
    scale = limit.scales.get(model)
    facts = {label: text or "any reading" for label, text in readings_of(limit, model).items()}
    if scale:
        facts["range"] = f"{scale.low:g} to {format_quantity(scale.high, limit.unit)}"
        facts |= {f"what {band.label} says": band.says for band in scale.bands}
    return {**facts, "set to": limit.settings.get(model, ""), "words": limit.text}


def changed_limits(before: Facts, now: Facts) -> Iterator[str]:
    """What became another: each limit that came or went, and each value of one with what it was and is."""
    yield from (f"- limit {name}" for name in before if name not in now)
    yield from (f"+ limit {name}" for name in now if name not in before)
    for name, facts in now.items():
        old = before.get(name, facts)
        differing = (word for word in dict.fromkeys((*old, *facts)) if old.get(word, "") != facts.get(word, ""))
        values = [f"{word} {old.get(word) or NOTHING}, now {facts.get(word) or NOTHING}" for word in differing]
        yield from (f"limit {name}: {'; '.join(values)}",) if values else ()
