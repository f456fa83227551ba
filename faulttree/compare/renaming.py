"""What was only renamed: a step or a cause that is gone and one that is new, where they say nearly the same.

A shared entry counts as renamed only where all but its name is the same; so does a finding of the same place and way.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from faulttree.compare.names import CAUSES, ROLES, STEPS, Names, with_names
from faulttree.compare.pairs import likeness_of_texts
from faulttree.model import Check, Library, Role, Variant
from faulttree.value import EMPTY, Value, field_names, replace

ALIKE = 0.7
"""From here on two steps or causes count as one that was renamed; 1 is alike in all."""

FEW = 40
"""More new steps or causes than these have to have the same words, so that the time stays in bounds."""


def renamed_entries(old: Library, new: Library) -> Names:
    """Shared entries whose name changed and nothing else.

    Models are none of them: a model's name is what a person picks.
    """
    roles = _renamed_roles(old, new)
    found: dict[str, dict[str, str]] = {ROLES: roles} if roles else {}
    read: Library = with_names(old, found) if found else old
    for field in field_names(Library):
        before, after = getattr(read, field), getattr(new, field)
        if isinstance(before, Mapping) and field not in (ROLES, "models"):
            pairs = _same(_only(before, after), _only(after, before))
            if pairs:
                found[field] = pairs
    return found


def _same(gone: Mapping[str, Any], came: Mapping[str, Any]) -> dict[str, str]:
    """Which of those that came says the same as each that is gone, in their order."""
    waiting: dict[str, list[str]] = {}
    for name, entry in came.items():
        waiting.setdefault(_nameless(entry), []).append(name)
    found = {}
    for name, entry in gone.items():
        if alike := waiting.get(_nameless(entry)):
            found[name] = alike.pop(0)
    return found


def _nameless(entry: Any) -> str:
    """All that an entry says but its name: equal texts for equal entries."""
    return repr(replace(entry, id="") if isinstance(entry, Value) else entry)


def _renamed_roles(old: Library, new: Library) -> dict[str, str]:
    """Roles that were renamed; they name each other, so all that may be are tried together, then without the wrong."""
    words = [{name: _alone(each) for name, each in side.roles.items()} for side in (old, new)]
    pairs = _same(_only(words[0], words[1]), _only(words[1], words[0]))
    while pairs:
        read: Library = with_names(old, {ROLES: pairs})
        wrong = [name for name, to in pairs.items() if read.roles[to] != new.roles[to]]
        if not wrong:
            return pairs
        pairs = {name: to for name, to in pairs.items() if name not in wrong}
    return {}


def _alone(role: Role) -> Role:
    """A role without the names of others, and without a title that is only its name."""
    return replace(role, covers=frozenset(), title="" if role.title == role.id else role.title)


def renamed_parts(old: Variant, new: Variant) -> Names:
    """Steps and causes of a variant that were renamed."""
    return {
        CAUSES: _recognised(_only(old.causes, new.causes), _only(new.causes, old.causes)),
        STEPS: _recognised(_only(old.steps, new.steps), _only(new.steps, old.steps)),
    }


def _recognised(gone: Mapping[str, Value], came: Mapping[str, Value]) -> dict[str, str]:
    if len(gone) <= FEW and len(came) <= FEW:
        return _pairs(gone, came)
    worded = ({name: _kind_and_words(each) for name, each in side.items() if _text(each)} for side in (gone, came))
    return _same(*worded)


def _only(these: Mapping[str, Any], those: Mapping[str, Any]) -> dict[str, Any]:
    return {name: each for name, each in these.items() if name not in those}


def _pairs(gone: Mapping[str, Value], came: Mapping[str, Value]) -> dict[str, str]:
    """Which of those that came each that is gone is now: the most alike first, each at most once."""
    scored = [
        (-score, at, to, before, after)
        for at, (before, one) in enumerate(gone.items())
        for to, (after, other) in enumerate(came.items())
        if type(one) is type(other) and (score := _likeness(one, other)) >= ALIKE
    ]
    pairs: dict[str, str] = {}
    taken: set[str] = set()
    for _, _, _, before, after in sorted(scored):
        if before not in pairs and after not in taken:
            pairs[before] = after
            taken.add(after)
    return pairs


def _likeness(one: Value, other: Value) -> float:
    """How much two steps or causes say the same, from 0 to 1: half by the words, half by the share of equal fields."""
    fields = [name for name in field_names(type(one)) if name not in ("id", "base")]
    told = [name for name in fields if getattr(one, name) or getattr(other, name)]
    alike: float = sum(getattr(one, name) == getattr(other, name) for name in told) / max(1, len(told))
    if alike < 2 * ALIKE - 1:
        # However alike their words are.
        return 0.0
    texts = [_text(each) or str(getattr(each, "kind", "")) for each in (one, other)]
    return (likeness_of_texts(*texts) + alike) / 2


def _text(part: Value) -> str:
    return str(getattr(part, "text", ""))


def _kind_and_words(part: Value) -> tuple[str, str]:
    return type(part).__name__, _text(part)


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
