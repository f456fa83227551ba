"""Valid trees as YAML text, by construction: each check parts the causes that are left, each cause has its fix.

The same seed gives the same text on every machine.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import product
from pathlib import Path

SAMPLE = Path(__file__).parents[1] / "sample"
CAUSES = 19
"""With so many causes a tree has forty steps: 18 checks, 19 fixes, one of them again elsewhere, and two ends."""

STEPS = 40
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
THINGS = ("collar", "seal", "cable", "switch", "lens", "ring", "clip", "cap", "post", "plate", "screw", "housing")
PLACES = ("upper", "lower", "left", "right", "inner", "outer", "front", "rear")
FAULTS = ("worn", "bent", "dirty", "loose", "cracked", "corroded", "jammed")
LABELS = (("Whole", "Split"), ("Firm", "Loose"), ("Clean", "Film"), ("Moves", "Sticks"), ("Lights", "Dark", "Flickers"))
LOOKS = ("Look at both sides.", "Turn it by hand and feel.", "Wipe it first.")
WORK = ("Draw the old one.", "Fit the new one.", "Close the ring.")


def generate(folder: Path, files: int, seed: int = 1) -> Path:
    """A library of so many trees in ``folder``, with the shared files of the sample."""
    folder.mkdir(parents=True)
    for path in SAMPLE.glob("*.yaml"):
        if path.stem != "lamp-does-not-light":
            text = path.read_text(encoding="utf-8").replace("tree: lamp-does-not-light", "x-tree: none")
            (folder / path.name).write_text(text, encoding="utf-8")
    shorts = ("".join(each) for each in product(LETTERS, repeat=3))
    for number, short in zip(range(files), shorts, strict=False):
        id = f"tree-{number:04}"
        (folder / f"{id}.yaml").write_text(tree_text(id, short, random.Random(f"{seed} {number}")), encoding="utf-8")
    return folder


def tree_text(id: str, short: str, chance: random.Random) -> str:
    """One tree with forty steps."""
    maker = _Maker(chance)
    start = maker.part([f"c{at}" for at in range(CAUSES)])
    lines = [
        "faulttree: 1",
        f"id: {id}",
        f"short: {short}",
        f"symptom: The {maker.thing()} does not hold",
        f"also:\n  - {maker.thing()} gives way\n  - noise from the {maker.thing()}",
        "equipment: [hand lamp]",
        "before: The lamp is out of the charger.",
        "first_actions:\n  - {who: user, do: Take another lamp.}",
        "report: Lamp no. ___ did not hold at ___.",
        f"urgency: soon\nrevision: {chance.randint(1, 9)}\ndate: 2026-11-20\nstatus: draft",
        "otherwise:\n  unable: out-of-use\n  failed: out-of-use\n  cannot: hand-over",
        "causes:",
        *maker.cause_lines(),
        f"start: {start}",
        "steps:",
        *maker.steps,
        "  out-of-use:\n    end: out of service\n    do: Hang the tag on the lamp. Tell the store.",
        "  hand-over:\n    end: hand over\n    to: repairer",
    ]
    return "\n".join(lines) + "\n"


class _Maker:
    """Makes the steps of one tree, and notes what each cause shows at the checks on its way."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.steps: list[str] = []
        self.shows: dict[str, list[str]] = {f"c{at}": [] for at in range(CAUSES)}
        self.checks = 0

    def thing(self) -> str:
        return f"{self.chance.choice(PLACES)} {self.chance.choice(THINGS)}"

    def part(self, causes: Sequence[str]) -> str:
        """The step that goes on with these causes: a fix for one, a check that parts more."""
        if len(causes) == 1:
            return self.fix(causes[0])
        self.checks += 1
        name = f"k{self.checks}"
        labels = self.chance.choice(LABELS[:-1])
        cut = self.chance.randint(max(1, len(causes) // 2 - 2), min(len(causes) - 1, len(causes) // 2 + 2))
        parts = (causes[:cut], causes[cut:])
        for label, some in zip(labels, parts, strict=True):
            for cause in some:
                self.shows[cause].append(f"{name}: {label}")
        at = len(self.steps)
        self.steps.append("")
        targets = [self.part(some) for some in parts]
        self.steps[at] = "\n".join(self.check_lines(name, list(zip(labels, targets, strict=True))))
        return name

    def check_lines(self, name: str, findings: Sequence[tuple[str, str]]) -> Iterator[str]:
        yield f"  {name}:"
        yield f"    check: Is the {self.thing()} good?"
        if self.chance.random() < 0.3:
            yield f"    do: {self.chance.choice(LOOKS)}"
        yield f"    who: user\n    minutes: {self.chance.choice((0.5, 1, 2, 3))}"
        yield "    findings:"
        yield from (f"      {label}: {to}" for label, to in findings)

    def fix(self, cause: str) -> str:
        name = f"f-{cause}"
        self.steps.append("\n".join(self.fix_lines(name, cause)))
        return name

    def fix_lines(self, name: str, cause: str) -> Iterator[str]:
        yield f"  {name}:"
        yield f"    fix: Fit a new {self.chance.choice(THINGS)}"
        yield f"    clears: [{cause}]"
        yield "    who: user"
        yield f"    do: {self.chance.choice(WORK)}"
        yield "    operational_check: lights-ten-times"
        if cause == "c0":
            yield f"    failed: {name}-else"
            yield f"  {name}-else:\n    again: f-c{CAUSES - 1}\n    failed: out-of-use"

    def cause_lines(self) -> Iterator[str]:
        for cause, shown in self.shows.items():
            yield f"  {cause}:"
            yield f"    is: {self.chance.choice(THINGS).capitalize()} {self.chance.choice(FAULTS)}"
            yield f"    shows: {{{', '.join(shown)}}}"
