"""Random valid trees for the engine, by construction: steps lead to later steps only, and the last is an end.

Everything that a gate or a phase can depend on is drawn: roles, occupant, people, notices (some read every time),
accesses that shut each other, things opened and closed, waits, second inspections, operational checks with gates
of their own, deferrals with conditions, a fallback.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from faulttree.keys import Kind, Move
from faulttree.model import (
    Access,
    Action,
    Cause,
    Check,
    End,
    Finding,
    Fix,
    Library,
    Notice,
    Occupant,
    OpenItem,
    OperationalCheck,
    Role,
    Route,
    SecondInspection,
    Step,
    Tree,
    Variant,
)
from faulttree.value import replace

MODEL = "Finch"
ROLES = ("crew", "mechanic", "engineering")
ITEMS = ("cam-free", "cover-off", "tag-hung")
NOTICES = ("rotor", "pinch", "bend", "hint", "strap")
ACCESSES = ("cover", "bench", "ground")
PROOFS = ("pull", "roll")


def _role(name: str, *covers: str) -> Role:
    return Role(name, name, (), (), frozenset({name, *covers}), 10.0)


def library(with_occupant: bool) -> Library:
    """A library that has one of everything that matters to a walk."""
    return Library(
        operator="Skarnmoor Air Rescue",
        roles={
            "crew": _role("crew"),
            "mechanic": _role("mechanic", "crew"),
            "engineering": _role("engineering"),
        },
        models={MODEL: "one"},
        urgencies={"now": "Now"},
        occupant=Occupant("Is a patient on it?", "Patient off it", "Patient first") if with_occupant else None,
        accesses={
            "cover": Access(
                "cover", "Cover off", who="mechanic", place="mount", opens=("cover-off",), notices=("bend",)
            ),
            "bench": Access("bench", "On the bench", place="cot", people=2),
            "ground": Access("ground", "On the ground", place="cot", closes=("cam-free",)),
        },
        open_items={
            "cam-free": OpenItem("cam-free", "hazard", "Cam free"),
            "cover-off": OpenItem("cover-off", "disturbance", "Cover off"),
            "tag-hung": OpenItem("tag-hung", "duty", "Tag hung"),
        },
        notices={
            "rotor": Notice("rotor", "warning", "Rotor", "Hits", ("Stand off",), every_time=True),
            "pinch": Notice("pinch", "warning", "Pinch", "Crushes", ("Hands off",)),
            "bend": Notice("bend", "caution", "Bend", "Breaks", ("Go gently",)),
            "hint": Notice("hint", "note", text=("A hint",)),
            "strap": Notice("strap", "warning", "Straps", "Falls", ("Keep them shut",), occupied_only=True),
        },
        operational_checks={
            "pull": OperationalCheck("pull", "Pull", ("Pull.",), "Does it hold?", "crew", "held", occupied=True),
            "roll": OperationalCheck(
                "roll", "Roll", ("Roll.",), "Is it quiet?", "mechanic", "quiet", people=2, notices=("rotor", "pinch")
            ),
        },
    )


def filled(move: Move) -> Move:
    """A move with the text that it cannot do without."""
    return replace(move, text="AB") if move.kind in (Kind.INSPECTED, Kind.CLOSED) else move


def subset(draw: Any, names: tuple[str, ...], most: int = 2) -> tuple[str, ...]:
    return tuple(draw(st.lists(st.sampled_from(names), max_size=most, unique=True)))


@st.composite
def trees(draw: Any) -> tuple[Tree, Library]:
    """A tree with one model, and its library. Not proved, and things may be left open: the engine must cope."""
    lib = library(draw(st.booleans()))
    size = draw(st.integers(2, 9))
    names = [f"s{at}" for at in range(size)]
    steps: dict[str, Step] = {}
    for at, name in enumerate(names[:-1]):
        later = st.sampled_from(names[at + 1 :])
        steps[name] = _check(draw, name, later, lib) if draw(st.booleans()) else _fix(draw, name, later, lib)
    for name in names[-1:]:
        steps[name] = _end(draw, name)
    variant = Variant(MODEL, names[0], steps, {"worn": Cause("worn", "Worn"), "bent": Cause("bent", "Bent")})
    fallback = (
        Action("crew", "Push it forward.", closes=("cam-free",)),
        Action("crew", "Use the bar.", opens=("cam-free", "tag-hung")),
    )
    tree = Tree(
        id="it-sticks", short="STK", symptom="It sticks", also=(), equipment=("cot",), urgency="now", revision=1,
        date="2026-11-25", status="draft", variants={MODEL: variant}, fallback=fallback, alike=True,
    )  # fmt: skip
    return tree, lib


def _common(draw: Any, lib: Library) -> dict[str, Any]:
    """The keys of checks and fixes; who, people and notices include those of the accesses, as a builder makes them."""
    accesses = subset(draw, ACCESSES)
    notices = tuple(dict.fromkeys((*(n for a in accesses for n in lib.accesses[a].notices), *subset(draw, NOTICES, 3))))
    who = "mechanic" if "cover" in accesses else draw(st.sampled_from(ROLES[:2] if accesses else ROLES))
    people = max(draw(st.sampled_from((1, 1, 2))), *(lib.accesses[name].people for name in (*accesses, "ground")))
    return {
        "who": who,
        "people": people,
        "notices": notices,
        "accesses": accesses,
        "opens": subset(draw, ITEMS),
        "closes": subset(draw, ITEMS),
        "occupied": draw(st.booleans()),
    }


def _check(draw: Any, name: str, later: st.SearchStrategy[str], lib: Library) -> Check:
    findings = tuple(
        Finding(label, number, draw(later), opens=subset(draw, ITEMS, 1), closes=subset(draw, ITEMS, 1))
        for number, label in enumerate(("Good", "Worn", "Gone")[: draw(st.integers(2, 3))], 1)
    )
    sure = draw(st.sampled_from((1.0, 1.0, 0.8)))
    common = _common(draw, lib)
    return Check(id=name, base=name, text=f"{name}?", findings=findings, unable=Route(draw(later)), sure=sure, **common)


def _fix(draw: Any, name: str, later: st.SearchStrategy[str], lib: Library) -> Fix:
    return Fix(
        id=name,
        base=name,
        text=f"Mend {name}",
        clears=("worn",),
        do=tuple(f"Line {at}." for at in range(draw(st.integers(1, 3)))),
        wait=draw(st.sampled_from((0.0, 5.0))),
        second_inspection=draw(st.sampled_from((None, SecondInspection("Look")))),
        operational_check=draw(st.sampled_from(PROOFS)),
        failed=Route(draw(later)),
        cannot=Route(draw(later)),
        **_common(draw, lib),
    )


def _end(draw: Any, name: str) -> End:
    kind = draw(st.sampled_from(("out of service", "deferred", "hand over", "no fault found")))
    when = ("It is whole.", "It is dry.") if kind == "deferred" else ()
    who = draw(st.sampled_from(("", "mechanic")))
    return End(id=name, kind=kind, who=who, when=when, opens=subset(draw, ITEMS, 1))
