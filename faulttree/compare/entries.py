"""How each field of a shared entry is judged: roles, accesses, documents, notices, limits, parts, tools and so on."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found
from faulttree.compare.judges import (
    CLOSES,
    OCCUPIED,
    OPENS,
    PEOPLE,
    Judge,
    Sides,
    cited,
    flag,
    lines,
    named,
    notices,
    number,
    reworded,
    role,
    table,
)
from faulttree.compare.limits import NUMBER
from faulttree.shared_entries import SIGNALS

KINDS = ("duty", "disturbance", "hazard")


def ranked(what: str, order: tuple[str, ...], kind: str) -> Judge:
    """A judge of a word out of an order, the weakest first."""

    def judge(sides: Sides, before: str, after: str) -> Iterator[Found]:
        weight = WEAKER if order.index(after) < order.index(before) else JUDGE
        yield Found(weight, kind, f"{what} changed", before=before, after=after)

    return judge


def tool_role(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """Who may use a tool. Without ``who`` it is for all but the first role, and more people may use it with one."""
    first = sides.new_library.first_role
    if not before or not after:
        weight = WEAKER if after == first else JUDGE
        says = "who may use it changed"
        yield Found(weight, "tool-role", says, before=before or "not the first role", after=after or "not the first")
    else:
        yield from role(sides, before, after)


def interval(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """How often a recurring look is due: weaker where a number of the same units is larger."""
    old, new = ([float(each) for each in NUMBER.findall(side)] for side in (before, after))
    alike = NUMBER.sub("", before) == NUMBER.sub("", after)
    longer = alike and any(b > a for a, b in zip(old, new, strict=True))
    yield Found(WEAKER if longer else JUDGE, "interval", "the interval changed", before=before, after=after)


ENTRIES: dict[str, tuple[str, str, dict[str, Judge]]] = {
    "roles": (
        "role",
        JUDGE,
        {
            "title": reworded("the title"),
            "may": lines("a line of what it may do", JUDGE, WEAKER),
            "may_not": lines("a line of what it may not do", WEAKER),
            "covers": named("role", JUDGE, WEAKER, "whose steps it may no longer do", "whose steps it may do now"),
            "call_out": reworded("the minutes until it is there"),
        },
    ),
    "models": ("model", JUDGE, {}),
    "urgencies": ("urgency", JUDGE, {}),
    "accesses": (
        "access",
        JUDGE,
        {
            "text": reworded("the words", JUDGE),
            "who": role,
            "minutes": reworded("the minutes"),
            "place": reworded("the place", JUDGE),
            "people": PEOPLE,
            "notices": notices,
            "tools": named("tool", JUDGE, JUDGE),
            "opens": OPENS,
            "closes": CLOSES,
        },
    ),
    "open_items": (
        "open item",
        WEAKER,
        {"kind": ranked("the kind", KINDS, "item-kind"), "text": reworded("the words", JUDGE)},
    ),
    "documents": (
        "document",
        JUDGE,
        {
            "title": reworded("the title"),
            "revision": reworded("the revision", JUDGE),
            "sections": table("section", JUDGE, OTHER, JUDGE),
        },
    ),
    "notices": (
        "notice",
        WEAKER,
        {
            "signal": ranked("the signal word", SIGNALS[::-1], "signal-lowered"),
            "hazard": reworded("the hazard", JUDGE, lost=WEAKER),
            "result": reworded("the result", JUDGE, lost=WEAKER),
            "avoid": lines("a line of how to avoid it", WEAKER),
            "text": lines("a line", JUDGE),
            "every_time": flag(
                JUDGE, "is acknowledged every time now", WEAKER, "is no longer acknowledged every time", "every-time"
            ),
        },
    ),
    "limits": (
        "limit",
        WEAKER,
        {
            "text": reworded("the words", JUDGE),
            "unit": reworded("the unit", WEAKER),
            "resolution": number("the resolution", JUDGE, JUDGE),
            "settings": reworded("what it is set to", JUDGE),
            "data": cited,
        },
    ),
    "parts": (
        "part",
        JUDGE,
        {
            "text": reworded("the words", JUDGE),
            "models": named("model", JUDGE, JUDGE),
            "per_year": reworded("how many are used in a year"),
            "lead_days": reworded("the days until it comes"),
            "note": reworded("the note", JUDGE),
        },
    ),
    "consumables": (
        "consumable",
        JUDGE,
        {
            "text": reworded("the words", JUDGE),
            "service": number("the wait until it is in service", WEAKER, JUDGE),
            "cure": number("the wait until it has cured", WEAKER, JUDGE),
            "note": reworded("the note", JUDGE),
        },
    ),
    "tools": (
        "tool",
        JUDGE,
        {"text": reworded("the words", JUDGE), "who": tool_role, "note": reworded("the note", JUDGE)},
    ),
    "operational_checks": (
        "operational check",
        WEAKER,
        {
            "text": reworded("the title", JUDGE),
            "do": lines("a line of what to do", WEAKER),
            "do_by_model": table("what to do on", WEAKER, JUDGE, WEAKER),
            "ask": reworded("the question", JUDGE),
            "who": role,
            "proved": reworded("the wording for the entry"),
            "minutes": reworded("the minutes"),
            "data": cited,
            "people": PEOPLE,
            "tools": named("tool", JUDGE, JUDGE),
            "notices": notices,
            "occupied": OCCUPIED,
            "limits": named("limit", WEAKER, JUDGE, "no longer judges it", "judges it now"),
        },
    ),
    "inspection": (
        "inspection item",
        WEAKER,
        {
            "every": interval,
            "who": role,
            "look": reworded("what is looked at", JUDGE),
            "tree": reworded("the tree", JUDGE),
            "limit": reworded("the limit", JUDGE, lost=WEAKER),
            "models": named("model", JUDGE, JUDGE),
            "data": cited,
        },
    ),
}
"""By field of the library: what an entry is called, what dropping one weighs, and the judges of its fields."""

FILES = {
    "library": ("roles", "models", "urgencies", "accesses", "open_items", "documents"),
    "parts": ("parts", "consumables"),
}
"""The fields of the shared files that have more than their own name says."""

ALONE: dict[str, Judge] = {
    "operator": reworded("the operator"),
    "revision": reworded("the revision"),
    "date": reworded("the date"),
}
OCCUPANT: dict[str, Judge] = {
    "ask": reworded("the question for the occupant", JUDGE),
    "off": reworded("the words for the occupant off", JUDGE),
    "first": reworded("the line that stands first while occupied", JUDGE),
}
