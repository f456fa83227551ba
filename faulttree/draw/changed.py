"""What of a step became another, in words that say what it was and what it is.

A reviewer looks at the drawing first. "Changed in content" would send them to look for it elsewhere, or not at all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from faulttree.draw.limits import NOTHING, changed_limits
from faulttree.model import Recheck, SecondInspection
from faulttree.units import format_quantity
from faulttree.value import Value, stated

WORDS = {
    "accesses": "access",
    "by_elimination": "by elimination",
    "named": "cause",
    "occupied": "with an occupant",
    "reportable": "to be reported",
    "second_inspection": "SECOND INSPECTION",
    "sure": "sureness",
    "try_early": "may be tried early",
    "under": "deferred under",
    "when": "condition",
}
"""What a field of a step is called, where its name with blanks would not do."""


ONLY_NAMED = frozenset(("base", "findings", "kind", "wording"))


def changed_words(word: str, before: Any, now: Any) -> str:
    """What changed of one fact of a step; texts that are long are only named."""
    if word == "role":
        return f"role (was {before or 'nobody in particular'})"
    if word == "limits":
        return "; ".join(changed_limits(before or {}, now or {})) or "order of limits"
    if word.startswith("warnings"):
        return f"{_of_warnings(before or {}, now or {})}{word.removeprefix('warnings')}"
    if word == "operational check":
        return _of_check(before, now)
    if isinstance(before, (SecondInspection, Recheck)) or isinstance(now, (SecondInspection, Recheck)):
        return "; ".join(_of_look(WORDS.get(word, word), before, now))
    name = WORDS.get(word, word.replace("_", " "))
    if word in ONLY_NAMED:
        return name
    if isinstance(before, (tuple, Mapping)) and isinstance(now, (tuple, Mapping)):
        return ", ".join(_of_several(name, before, now)) or f"order of {name}"
    return f"{name} {_told(word, before)}, now {_told(word, now)}"


def _of_warnings(before: Mapping[str, Any], now: Mapping[str, Any]) -> str:
    gone = [f"- {name}" for name in before if name not in now]
    more = [f"+ {name}" for name in now if name not in before]
    other = [f"~ {name}" for name in now if name in before and before[name] != now[name]]
    return ", ".join((*gone, *more, *other)) or "order of warnings"


def _of_check(before: Mapping[str, Any] | None, now: Mapping[str, Any] | None) -> str:
    """An operational check that came, went or is another one; else what of it changed, by name."""
    if not before or not now:
        return f"{'-' if before else '+'} OPERATIONAL CHECK"
    if before["id"] != now["id"]:
        return f"operational check {before['id']}, now {now['id']}"
    names = {"who": "role", "text": "name", "do_by_model": "do"}
    fields = (names.get(name, name) for name in now if before.get(name) != now[name])
    return f"operational check ({', '.join(dict.fromkeys(fields))})"


def _of_look(name: str, before: Value | None, now: Value | None) -> Iterator[str]:
    """A second inspection or a recheck: who looks and when are told, what is looked at is named."""
    if before is None or now is None:
        yield f"{'-' if before else '+'} {name}"
        return
    old, new = stated(before), stated(now)
    for field in new:
        if old[field] != new[field]:
            yield f"{name}: what is looked at" if field == "look" else f"{name}: {old[field]}, now {new[field]}"


def _of_several(name: str, before: Any, now: Any) -> Iterator[str]:
    """What is no longer in a list or a table, and what is new in it."""
    old, new = _items(before), _items(now)
    yield from (f"- {name} {item}" for item in old if item not in new)
    yield from (f"+ {name} {item}" for item in new if item not in old)


def _items(values: Any) -> list[str]:
    if isinstance(values, Mapping):
        return [" ".join((str(key), *_parts(value))) for key, value in values.items()]
    return [" ".join(_parts(value)) for value in values]


def _parts(value: Any) -> tuple[str, ...]:
    return tuple(map(str, value)) if isinstance(value, tuple) else (str(value),)


def _told(word: str, value: Any) -> str:
    if word == "occupied":
        return "allowed" if value else "not allowed"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if word in ("wait", "minutes") and value is not None:
        return format_quantity(value, "min")
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, Value):
        return " by ".join(f"{each:g}" for each in stated(value).values())
    return str(value) if value else NOTHING
