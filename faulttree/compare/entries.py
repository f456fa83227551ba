"""How each field of a shared entry is judged: roles, accesses, documents, notices, limits, parts, tools and so on."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found
from faulttree.compare.gates import (
    CLOSES,
    OCCUPIED,
    OPENS,
    PEOPLE,
    ROLE,
    cited,
    for_models,
    notices,
    tool_role,
)
from faulttree.compare.intervals import interval
from faulttree.compare.judges import Judge, Sides, flag, judging, lines, named, number, reworded, table
from faulttree.model import SIGNALS

KINDS = ("duty", "disturbance", "hazard")


def ranked(what: str, kind: str, order: tuple[str, ...]) -> Judge:
    """A judge of a word out of an order, the weakest first."""

    @judging(f"{kind}-lowered", f"{kind}-raised")
    def judge(sides: Sides, before: str, after: str) -> Iterator[Found]:
        is_less = order.index(after) < order.index(before)
        weight, which = (WEAKER, f"{kind}-lowered") if is_less else (JUDGE, f"{kind}-raised")
        yield Found(weight, which, f"{what} changed", before=before, after=after)

    return judge


ENTRIES: dict[str, tuple[str, str, dict[str, Judge]]] = {
    "roles": (
        "role",
        JUDGE,
        {
            "title": reworded("the title", "title"),
            # No rule tells which of two sentences allows more.
            "may": lines("a line of what it may do", "may", JUDGE, WEAKER, WEAKER),
            "may_not": lines("a line of what it may not do", "may-not", WEAKER, JUDGE, WEAKER),
            "covers": named(
                "role", "covers", JUDGE, WEAKER, "whose steps it may no longer do", "whose steps it may do now"
            ),
            "call_out": reworded("the minutes until it is there", "call-out"),
        },
    ),
    "models": ("model", JUDGE, {}),
    "urgencies": ("urgency", JUDGE, {}),
    "accesses": (
        "access",
        JUDGE,
        {
            "text": reworded("the words", "words", JUDGE),
            "who": ROLE,
            "minutes": reworded("the minutes", "minutes"),
            "place": reworded("the place", "place", JUDGE),
            "people": PEOPLE,
            "notices": notices,
            "tools": named("tool", "tool", JUDGE, JUDGE),
            "opens": OPENS,
            "closes": CLOSES,
        },
    ),
    "open_items": (
        "open item",
        WEAKER,
        {"kind": ranked("the kind", "item-kind", KINDS), "text": reworded("the words", "words", JUDGE)},
    ),
    "documents": (
        "document",
        JUDGE,
        {
            "title": reworded("the title", "title"),
            "revision": reworded("the revision", "revision", JUDGE),
            "sections": table("section", "section", JUDGE, OTHER, JUDGE),
        },
    ),
    "notices": (
        "notice",
        WEAKER,
        {
            "signal": ranked("the signal word", "signal", SIGNALS[::-1]),
            "hazard": reworded("the hazard", "hazard", JUDGE, lost=WEAKER),
            "result": reworded("the result", "result", JUDGE, lost=WEAKER),
            "avoid": lines("a line of how to avoid it", "avoid", WEAKER),
            "text": lines("a line", "text", JUDGE),
            "every_time": flag(
                "every-time", JUDGE, "is acknowledged every time now", WEAKER, "is no longer acknowledged every time"
            ),
            "occupied_only": flag(
                "occupied-only", WEAKER, "is shown only while occupied now", JUDGE, "is shown without an occupant too"
            ),
        },
    ),
    "limits": (
        "limit",
        WEAKER,
        {
            "text": reworded("the words", "words", JUDGE),
            "unit": reworded("the unit", "unit", WEAKER),
            "resolution": number("the resolution", "resolution", JUDGE, JUDGE),
            "data": cited,
        },
    ),
    "parts": (
        "part",
        JUDGE,
        {
            "text": reworded("the words", "words", JUDGE),
            "models": for_models(JUDGE),
            "per_year": reworded("how many are used in a year", "per-year"),
            "lead_days": reworded("the days until it comes", "lead-days"),
            "note": reworded("the note", "note", JUDGE),
        },
    ),
    "consumables": (
        "consumable",
        JUDGE,
        {
            "text": reworded("the words", "words", JUDGE),
            "service": number("the wait until it is in service", "service", WEAKER, JUDGE),
            "cure": number("the wait until it has cured", "cure", WEAKER, JUDGE),
            "note": reworded("the note", "note", JUDGE),
        },
    ),
    "tools": (
        "tool",
        JUDGE,
        {"text": reworded("the words", "words", JUDGE), "who": tool_role, "note": reworded("the note", "note", JUDGE)},
    ),
    "operational_checks": (
        "operational check",
        WEAKER,
        {
            "text": reworded("the title", "title", JUDGE),
            "do": lines("a line of what to do", "do", WEAKER),
            "do_by_model": table("what to do on", "do-by-model", WEAKER, JUDGE, WEAKER),
            "ask": reworded("the question", "question", JUDGE),
            "who": ROLE,
            "proved": reworded("the wording for the entry", "entry-wording"),
            "minutes": reworded("the minutes", "minutes"),
            "data": cited,
            "people": PEOPLE,
            "tools": named("tool", "tool", JUDGE, JUDGE),
            "notices": notices,
            "occupied": OCCUPIED,
            "limits": named("limit", "limit", WEAKER, JUDGE, "no longer judges it", "judges it now"),
        },
    ),
    "inspection": (
        "inspection item",
        WEAKER,
        {
            "every": interval("the interval", "interval"),
            "who": ROLE,
            "look": reworded("what is looked at", "look", JUDGE),
            "tree": reworded("the tree", "tree", JUDGE),
            "limit": reworded("the limit", "limit", JUDGE, lost=WEAKER),
            "also_limits": named("limit", "limit", WEAKER, JUDGE, "no longer decides", "decides now"),
            "models": for_models(WEAKER),
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
    "operator": reworded("the operator", "operator"),
    "revision": reworded("the revision", "revision"),
    "date": reworded("the date", "date"),
}
OCCUPANT: dict[str, Judge] = {
    "ask": reworded("the question for the occupant", "occupant-ask", JUDGE),
    "off": reworded("the words for the occupant off", "occupant-off", JUDGE),
    "first": reworded("the line that stands first while occupied", "occupant-first", JUDGE),
}
