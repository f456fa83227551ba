"""The words by which rules know a hazard, a notice of it, and what happens to people or to things.

What `words` says of its lists holds for these.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple


class Hazard(NamedTuple):
    """A hazard: what betrays it in a text about a step, and how a notice of it is known."""

    name: str
    words: Collection[str]
    """Pieces of text in lower case; where none of these stands, `betrays` need not be looked for."""
    betrays: str
    noticed: tuple[str, ...]
    """Beginnings of words by which a notice is known."""


LIFTING = ("lift", "weigh", "heavy", "carry", "carries")
"""Beginnings of words by which a notice about lifting by hand is known."""

_AT_WORK = r"(?:unhook|hook|take|draw|put|remove|release|fit|stretch|compress|seat|change|replace|renew|pull)"

HAZARDS: tuple[Hazard, ...] = (
    Hazard(
        "stored force",
        ("spring", "strut", "pressure", "tension"),
        rf"\b{_AT_WORK}\b[^.!?]{{0,30}}?\bsprings?\b(?! hook| scale| balance| washer)"
        r"|\bgas struts?\b|\bunder (?:pressure|tension)\b|\bspring hook\b",
        ("spring", "stored", "tension", "pressure", "strut"),
    ),
    Hazard(
        "pinching",
        ("pinch", "finger", "hands"),
        r"\bpinch(?:es)?\b|\bfingers? (?:stays? |are |is )?(?:out|away|clear|off)\b|\bput your fingers?\b"
        r"|\bkeep (?:your )?(?:hands?|fingers?) (?:out|away|clear|off|outside)\b",
        ("pinch", "finger", "crush", "nip"),
    ),
    Hazard(
        "a lift",
        ("lift", "carry", "heave"),
        r"\b(?:lift|carry|heave) (?:(?:the|a|an|its|that|this|each) (?:\w+ )?"
        r"(?:cot|mount|end|frame|cart|bed|unit|battery|motor|chair)|it)\b",
        LIFTING,
    ),
    Hazard(
        "rotors",
        ("rotor", "propeller"),
        r"\brotors?\b(?! brake)|\bpropellers?\b",
        ("rotor", "propeller"),
    ),
    Hazard(
        "vapour",
        ("adhesive", "solvent", "activator", "vapour", "vapor", "fumes", "acetone", "threadlocker", "thinner"),
        r"\badhesives?\b|\bsolvents?\b|\bactivator\b|\bvapou?rs?\b|\bfumes\b|\bacetone\b"
        # "The thinner one counts" speaks of a thickness.
        r"|\b(?:with|some|paint|cellulose) thinner\b|\bthinners\b",
        ("vapour", "vapor", "fume", "solvent", "adhesive", "breath"),
    ),
    Hazard(
        "sharps and body fluids",
        ("sharps", "needle", "blood", "fluid", "vomit"),
        r"\bsharps\b|\bneedles?\b|\bblood\b|\bbody fluids?\b|\bvomit\b",
        ("sharp", "needle", "blood", "fluid", "infect"),
    ),
)
"""Hazards that words betray. What a patient or a lift is told by, are keys of a step: see `notice_missing`."""


PATIENT = ("patient", "occupant", "person")
"""Beginnings of words by which a notice about an occupant is known."""

INJURY = (
    "injur", "hurt", "crush", "burn", "kill", "death", "dies", "struck", "infect", "poison", "blind", "finger", "eye",
    "skin", "breathing", "dizz", "amputat", "shock",
)  # fmt: skip
"""Beginnings of words for what happens to people; a notice whose result says so is a warning."""

DANGER = (
    "fire", "explo", "burst", "flies", "flight", "fall", "drop", "open", "roll", "runs", "free",
)  # fmt: skip
"""Beginnings of words for what ends with people hurt although it speaks of things."""

DAMAGE = (
    "crack", "scratch", "strips", "stripped", "corro", "wear", "worn", "weak", "flat", "jam", "bend",
)  # fmt: skip
"""Beginnings of words for what happens to things; a warning whose result says only this is a caution."""
