"""Names that changed: what was only renamed is recognised, and the old side read by the new names.

Every reference of the model to a step, a cause or a shared entry stands in one table here. A step or a cause that is
gone and one that is new are the same where they say nearly the same; a shared entry only where it says the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from difflib import SequenceMatcher
from typing import Any

from faulttree.model import Check, Library, Tree, Variant
from faulttree.value import EMPTY, Value, field_names, replace, stated

STEPS, CAUSES = "steps", "causes"
ALIKE = 0.7
"""From here on two steps or causes count as one that was renamed; 1 is alike in all."""

FEW = 40
"""More new steps than these are compared by their words alone, so that the time stays in bounds."""

Names = Mapping[str, Mapping[str, str]]
"""By the kind of thing, old name to new name."""

REFERS: dict[str, tuple[str, ...]] = {
    "notices": ("notices",),
    "accesses": ("accesses",),
    "tools": ("tools",),
    "consumables": ("consumables",),
    "opens": ("open_items",),
    "closes": ("open_items",),
    "limits": ("limits",),
    "measure": ("limits",),
    "limit": ("limits",),
    "operational_check": ("operational_checks",),
    "parts": ("parts",),
    "watch": ("inspection",),
    "base": (STEPS,),
    "goto": (STEPS,),
    "start": (STEPS,),
    "arrives": (STEPS,),
    "passed_over": (STEPS, STEPS),
    "steps": (STEPS,),
    "shows": (STEPS,),
    "causes": (CAUSES,),
    "clears": (CAUSES,),
    "misses": (CAUSES,),
    "cause": (CAUSES,),
    "named": (CAUSES,),
    "data": ("documents",),
    "under": ("documents",),
    "written_against": ("documents",),
}
"""Field to what its names are: of a text the text, of a list its items, of a mapping its keys, and its values second.

The `to` of a route is a step; that of an end is a role. The `id` of a step or a cause is told by where it stands.
"""


def with_names(value: Any, names: Names, own: str = "") -> Any:
    """``value`` with old names replaced by new ones; ``own`` is the kind of thing whose entries it is."""
    if isinstance(value, Value):
        return replace(value, **dict(_fields(value, names, own)))
    if isinstance(value, Mapping):
        return {key: with_names(each, names, own) for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(with_names(each, names) for each in value)
    return value


def _fields(value: Value, names: Names, own: str) -> Iterator[tuple[str, Any]]:
    for field, each in stated(value).items():
        kinds = REFERS.get(field, ())
        if field == "id":
            kinds = (own,)
        elif field == "to" and type(value).__name__ == "Route":
            kinds = (STEPS,)
        elif field == "limits" and isinstance(value, Library):
            kinds = ("limits",)
        yield field, _renamed(with_names(each, names, kinds[0] if kinds else ""), kinds, names)


def _renamed(value: Any, kinds: tuple[str, ...], names: Names) -> Any:
    known = names.get(kinds[0], EMPTY) if kinds else EMPTY
    if not known:
        return value
    if isinstance(value, str):
        return known.get(value, value)
    if isinstance(value, tuple):
        return tuple(known.get(each, each) if isinstance(each, str) else each for each in value)
    if isinstance(value, Mapping):
        return {known.get(key, key): _renamed(each, kinds[1:], names) for key, each in value.items()}
    return value


# -- what was renamed


def renamed_entries(old: Library, new: Library) -> Names:
    """Shared entries whose name changed and nothing else."""
    found: dict[str, dict[str, str]] = {}
    for field in field_names(Library):
        before, after = getattr(old, field), getattr(new, field)
        if isinstance(before, Mapping) and field not in ("roles", "models", "urgencies"):
            gone, came = _only(before, after), _only(after, before)
            pairs = _pairs(gone, came, lambda one, other: float(replace(one, id="") == replace(other, id="")))
            if pairs:
                found[field] = pairs
    return found


def renamed_parts(old: Variant, new: Variant) -> Names:
    """Steps and causes of a variant that were renamed."""
    causes = _pairs(_only(old.causes, new.causes), _only(new.causes, old.causes), _likeness)
    gone, came = _only(old.steps, new.steps), _only(new.steps, old.steps)
    likeness = _likeness if len(gone) <= FEW and len(came) <= FEW else _same_words
    return {CAUSES: causes, STEPS: _pairs(gone, came, likeness)}


def _only(these: Mapping[str, Any], those: Mapping[str, Any]) -> dict[str, Any]:
    return {name: each for name, each in these.items() if name not in those}


def _pairs(
    gone: Mapping[str, Value], came: Mapping[str, Value], likeness: Callable[[Any, Any], float]
) -> dict[str, str]:
    """Which of those that came each that is gone is now: the most alike first, each at most once."""
    scored = [
        (-score, at, to, before, after)
        for at, (before, one) in enumerate(gone.items())
        for to, (after, other) in enumerate(came.items())
        if type(one) is type(other) and (score := likeness(one, other)) >= ALIKE
    ]
    pairs: dict[str, str] = {}
    for _, _, _, before, after in sorted(scored):
        if before not in pairs and after not in pairs.values():
            pairs[before] = after
    return pairs


def _likeness(one: Any, other: Any) -> float:
    """How much two steps or causes say the same, from 0 to 1: half by the words, half by the share of equal fields."""
    fields = [name for name in field_names(type(one)) if name not in ("id", "base")]
    told = [name for name in fields if getattr(one, name) or getattr(other, name)]
    alike = sum(getattr(one, name) == getattr(other, name) for name in told) / max(1, len(told))
    return float(_words(one, other) + alike) / 2


def _words(one: Any, other: Any) -> float:
    texts = [str(getattr(each, "text", "") or getattr(each, "kind", "")) for each in (one, other)]
    if texts[0] == texts[1]:
        return 1.0
    matcher = SequenceMatcher(None, texts[0], texts[1], autojunk=False)
    return matcher.ratio() if matcher.quick_ratio() >= ALIKE / 2 else 0.0


def _same_words(one: Any, other: Any) -> float:
    return float(getattr(one, "text", "") == getattr(other, "text", "") != "")


# -- labels


def renamed_labels(old: Variant, new: Variant) -> dict[str, dict[str, str]]:
    """By base check, old label to new: the finding of the same number with the same way, where the label is new."""
    found: dict[str, dict[str, str]] = {}
    for name, before in old.steps.items():
        after = new.steps.get(name)
        if isinstance(before, Check) and isinstance(after, Check):
            kept = {each.label for each in before.findings} & {each.label for each in after.findings}
            by_number = {each.number: each for each in after.findings if each.label not in kept}
            for finding in before.findings:
                other = by_number.get(finding.number)
                if finding.label not in kept and other and other.goto == finding.goto:
                    found.setdefault(before.base, {})[finding.label] = other.label
    return found


def with_labels(variant: Variant, labels: Mapping[str, Mapping[str, str]]) -> Variant:
    """``variant`` with the findings of these checks under their new labels, at the causes as well."""
    if not labels:
        return variant
    steps = {
        name: _relabelled(step, labels[step.base]) if isinstance(step, Check) and step.base in labels else step
        for name, step in variant.steps.items()
    }
    causes = {
        name: replace(
            cause,
            shows={
                check: tuple(labels.get(check, EMPTY).get(label, label) for label in shown)
                for check, shown in cause.shows.items()
            },
        )
        for name, cause in variant.causes.items()
    }
    return replace(variant, steps=steps, causes=causes)


def _relabelled(check: Check, labels: Mapping[str, str]) -> Check:
    findings = tuple(replace(each, label=labels.get(each.label, each.label)) for each in check.findings)
    return replace(check, findings=findings, usual=tuple(labels.get(each, each) for each in check.usual))


def tree_with_names(tree: Tree, names: Names) -> Tree:
    """``tree`` by the new names of shared entries."""
    renamed: Tree = with_names(tree, names)
    return renamed
