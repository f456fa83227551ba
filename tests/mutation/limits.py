"""Numbers and intervals that decide, broken: limits, what they are set to, recurring looks."""

from __future__ import annotations

from decimal import Decimal

from faulttree.set_values import set_to

from .breaks import breaks
from .places import Ground, Places, longer, put, without


@breaks("widen a limit", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("limits"):
        for label, band in entry.get("bands", {}).items():
            for edge, step in (("up_to", 1), ("up_to", -1), ("below", 1), ("below", -1)):
                if isinstance(band.get(edge), str) and _widens(ground, name, label, step):
                    yield f"{name}, {label}", put(band, edge, str(float(band[edge]) + step * _width(entry)))


def _width(entry):
    """Less than what parts two edges."""
    edges = [float(value) for band in entry["bands"].values() for value in band.values() if _is_number(value)]
    return min([abs(one - other) for one in edges for other in edges if one != other] or [1.0]) / 4


def _is_number(value):
    return isinstance(value, str) and value.replace(".", "", 1).isdigit()


def _widens(ground, name, label, step):
    """Whether moving the upper edge of a band by ``step`` gives the band that is set more room."""
    limit = ground.library.limits[name]
    for model, scale in limit.scales.items():
        if not (numbers := set_to(limit.settings.get(model, "")).numbers):
            return False
        right = scale.band_of(numbers[0])
        labels = [band.label for band in scale.bands]
        return label == right if step > 0 else labels.index(label) + 1 == labels.index(right)
    return False


@breaks("widen a limit whose bands are all renamed", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("limits"):
        bands = entry.get("bands", {})
        for label, band in bands.items():
            if isinstance(band.get("up_to"), str) and _widens(ground, name, label, 1):
                wider = {**band, "up_to": str(float(band["up_to"]) + _width(entry))}
                others = {f"{each} 2": wider if each == label else bands[each] for each in bands}
                yield f"{name}, {label}", put(entry, "bands", others)


@breaks("set a limit outside of its right band", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("limits"):
        numbers = set_to(entry["set"]).numbers if isinstance(entry.get("set"), str) else ()
        ends = entry["range"] if isinstance(entry["range"], list) else []
        for end in ends if numbers else ():
            scales = ground.library.limits[name].scales.values()
            if all(scale.band_of(Decimal(end)) != scale.band_of(numbers[0]) for scale in scales):
                yield f"{name}, {end}", put(entry, "set", end)


@breaks("a recurring look comes less often", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("inspection"):
        yield name, put(entry, "every", longer(entry["every"]))


@breaks("a recurring look comes less often, told in years", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("inspection"):
        yield name, put(entry, "every", "20 years")


@breaks("restrict an inspection item to one model", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("inspection"):
        for model in list(ground.library.models)[:1] if len(entry.get("models", ground.library.models)) > 1 else ():
            yield f"{name}, {model}", put(entry, "models", [model])


@breaks("drop a recurring look", weakens=True)
def _(ground: Ground) -> Places:
    for name, _entry in ground.shared("inspection"):
        yield name, without(ground.docs["inspection"]["inspection"], name)


@breaks("drop a limit of a recurring look", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("inspection"):
        limits = entry.get("limit", ())
        for limit in limits if isinstance(limits, list) else (limits,) if limits else ():
            rest = [each for each in limits if each != limit] if isinstance(limits, list) else []
            yield f"{name}, {limit}", put(entry, "limit", rest) if rest else without(entry, "limit")
