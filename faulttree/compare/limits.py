"""Limits: whether the band of sound equipment takes in more than before."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from faulttree.compare.changes import JUDGE, WEAKER, Found, told
from faulttree.compare.judges import Judge, Sides, judging
from faulttree.model import Scale
from faulttree.set_values import set_to

BANDS = (
    "band-dropped", "band-new", "band-renamed", "limit-widened", "limit-tightened", "limit-moved", "wording", "range",
)  # fmt: skip


def scales(usual: Mapping[str, Collection[str]], limit: str) -> Judge:
    """A judge of the bands of a limit on each model. ``usual`` has what sound equipment shows, by limit."""

    @judging(*BANDS, "limit-dropped", "limit-new")
    def judge(sides: Sides, before: Mapping[str, Scale], after: Mapping[str, Scale]) -> Iterator[Found]:
        alike: dict[tuple[Found, ...], list[str]] = {}
        for model, old in before.items():
            if model not in after:
                alike.setdefault((Found(WEAKER, "limit-dropped", "the limit is dropped"),), []).append(model)
            elif after[model] != old:
                right = right_band(sides, limit, model, old, usual.get(limit, ()))
                alike.setdefault(tuple(_scale(old, after[model], right)), []).append(model)
        for found, models in alike.items():
            on = "" if set(models) == set(before) else f" (on {', '.join('{}' for _ in models)})"
            names = () if not on else tuple(models)
            yield from (each._replace(says=each.says + on, names=(*each.names, *names)) for each in found)
        for model in after:
            if model not in before:
                yield Found(JUDGE, "limit-new", "the limit is new for model {}", (model,), after=told(after[model]))

    return judge


def right_band(sides: Sides, limit: str, model: str, scale: Scale, usual: Collection[str]) -> str:
    """The band of sound equipment: the one of what it is set to, else the one that checks call usual; or empty."""
    numbers = set_to(sides.old_library.limits[limit].settings.get(model, "")).numbers
    if numbers:
        return scale.band_of(numbers[0])
    return _usual_band(scale, usual)


def _usual_band(scale: Scale, usual: Collection[str]) -> str:
    labels = {band.label for band in scale.bands} & set(usual)
    return labels.pop() if len(labels) == 1 else ""


def settings(usual: Mapping[str, Collection[str]], limit: str) -> Judge:
    """A judge of what a limit is set to: weaker where that lies outside of the band that was right."""

    @judging("set-outside", "set-changed")
    def judge(sides: Sides, before: Mapping[str, str], after: Mapping[str, str]) -> Iterator[Found]:
        outside: dict[tuple[str, str, str], list[str]] = {}
        for model, setting in after.items():
            if setting != before.get(model) and (right := _left(sides, limit, model, setting, usual.get(limit, ()))):
                outside.setdefault((right, told(before.get(model)), setting), []).append(model)
        for (right, *values), models in outside.items():
            says = f"is set outside of band {{}} now (on {', '.join('{}' for _ in models)})"
            yield Found(WEAKER, "set-outside", says, (right, *models), *values)
        yield Found(JUDGE, "set-changed", "what it is set to changed", before=told(before), after=told(after))

    return judge


def _left(sides: Sides, limit: str, model: str, setting: str, usual: Collection[str]) -> str:
    """The right band, where a new setting lies outside of it, and of the one that checks call usual; or empty."""
    old, new = (side.limits[limit].scales.get(model) for side in (sides.old_library, sides.new_library))
    right = right_band(sides, limit, model, old, usual) if old else ""
    if not old or not new or not right:
        return ""
    called = renamed_bands(old, new)
    sound = {called.get(each, each) for each in (right, _usual_band(old, usual))}
    return right if {new.band_of(number) for number in set_to(setting).numbers} - sound else ""


Edge = tuple[float, bool]
"""Where a band ends, and whether the end belongs to it."""


Reaches = dict[str, tuple[Edge, Edge]]


def reaches(scale: Scale) -> Reaches:
    """Each band with the edge below and the edge above; edges compare by how far up they reach."""
    found: Reaches = {}
    below: Edge = (float("-inf"), False)
    for band in scale.bands:
        above = (float("inf"), True) if band.limit is None else (band.limit, band.inclusive)
        found[band.label] = (below, above)
        below = above
    return found


def renamed_bands(old: Scale, new: Scale) -> dict[str, str]:
    """Old name to new name of the bands that only one side has, by their place; none where their number changed."""
    if len(old.bands) != len(new.bands):
        return {}
    labels = [{band.label for band in scale.bands} for scale in (old, new)]
    pairs = [(before.label, after.label) for before, after in zip(old.bands, new.bands, strict=True)]
    return {before: after for before, after in pairs if before not in labels[1] and after not in labels[0]}


def _scale(old: Scale, new: Scale, right: str) -> Iterator[Found]:
    called = renamed_bands(old, new)
    for label, other in called.items():
        yield Found(JUDGE, "band-renamed", "band {} is called {} now", (label, other))
    names = {after: before for before, after in called.items()}
    before, after = reaches(old), {names.get(label, label): reach for label, reach in reaches(new).items()}
    for label, (low, high) in before.items():
        if label not in after:
            weight = WEAKER if label == right or not right else JUDGE
            yield Found(weight, "band-dropped", "band {} is dropped", (label,), before=_range((low, high)))
        elif after[label] != (low, high) and not _follows(label, right, before, after):
            yield _moved(label, right, (low, high), after[label])
    for label in after:
        if label not in before:
            yield Found(JUDGE, "band-new", "band {} is new", (label,), after=_range(after[label]))
    says = {called.get(band.label, band.label): band.says for band in old.bands}
    for band in new.bands:
        if says.get(band.label, band.says) != band.says:
            what = "what band {} says changed"
            yield Found(JUDGE, "wording", what, (band.label,), told(says[band.label]), told(band.says))
    if (old.low, old.high) != (new.low, new.high):
        edges = [f"{scale.low:g} to {scale.high:g}" for scale in (old, new)]
        yield Found(JUDGE, "range", "the range of readings that can be changed", before=edges[0], after=edges[1])


def _follows(label: str, right: str, before: Reaches, after: Reaches) -> bool:
    """Whether all that moved of a band is an edge that it shares with the right one, of which it is told."""
    if right == label or right not in before:
        return False
    moved = {old for old, new in zip(before[label], after[label], strict=True) if old != new}
    return moved <= set(before[right]) and right in after


def _moved(label: str, right: str, old: tuple[Edge, Edge], new: tuple[Edge, Edge]) -> Found:
    """A band that ends elsewhere: weaker where the right one takes in more, or where nothing tells which is right."""
    wider = new[0] < old[0] or new[1] > old[1]
    if label == right:
        kind = "limit-widened" if wider else "limit-tightened"
        return Found(WEAKER if wider else JUDGE, kind, f"band {{}} is {kind[6:]}", (label,), _range(old), _range(new))
    weight, says = JUDGE, "band {} ends elsewhere"
    if not right:
        weight, says = WEAKER, "band {} ends elsewhere, and nothing says which band is right"
    return Found(weight, "limit-moved", says, (label,), _range(old), _range(new))


def _range(reach: tuple[Edge, Edge]) -> str:
    (low, low_in), (high, high_in) = reach
    below = "" if low == float("-inf") else f"{'above' if low_in else 'from'} {low:g}"
    above = "" if high == float("inf") else f"{'up to' if high_in else 'below'} {high:g}"
    return " ".join(each for each in (below, above) if each) or "everything"
