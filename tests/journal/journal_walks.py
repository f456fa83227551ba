"""A small library and walks through it, for the tests of the journal and the processes that they start."""

from __future__ import annotations

import datetime
import os
import random
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from faulttree.journal import Facts, Journal, create
from faulttree.keys import Kind, Move
from faulttree.library import load_tree
from faulttree.model import Library, Tree
from faulttree.readback import begin
from faulttree.value import replace
from faulttree.walk import Walk, apply, possible_moves

CHILD = Path(__file__).with_name("journal_child.py")
ENVIRON = {**os.environ, "PYTHONPATH": os.pathsep.join([str(CHILD.parents[2]), os.environ.get("PYTHONPATH", "")])}
POSIX = pytest.mark.skipif(os.name != "posix", reason="needs fork, signals and pipes")

Loaded = tuple[Tree, Library]

TREE = "lamp-is-dark"

FILES = {
    "library.yaml": """\
faulttree: 1
operator: Skarnmoor Air Rescue (invented)
roles:
  crew: {may: look and switch}
  mechanic: {may: all work, includes: [crew], call_out: 30}
models: {Finch: one cell, Wren: two cells}
urgencies: {soon: Mend before the next shift}
occupant: {ask: Is a patient on the cot?, off: Patient off the cot, first: The patient comes first.}
open_items:
  cell-out: {kind: disturbance, is: Cell lies outside the lamp}
  tag: {kind: duty, is: Tag hangs on the lamp}
documents: {LAMP-01: {title: Lamp instructions, revision: B}}
""",
    "notices.yaml": """\
faulttree: 1
notices:
  hot-lens: {signal: warning, hazard: Hot lens, result: Burns, avoid: [Let it cool.]}
  wrong-cell: {signal: caution, hazard: Wrong cell, result: Lamp damaged, avoid: [Read the cap.], every_time: true}
""",
    "limits.yaml": """\
faulttree: 1
limits:
  cell-volts:
    is: Cell voltage under load
    unit: V
    range: [0, 20]
    bands: {Flat: {below: 1.1}, Good: {}}
""",
    "operational-checks.yaml": """\
faulttree: 1
operational_checks:
  lights: {is: Light check, do: [Switch on ten times.], ask: Does it light each time?, who: crew, proved: Lit 10 of 10.}
""",
    "trees/lamp-is-dark.yaml": """\
faulttree: 1
id: lamp-is-dark
short: LMP
symptom: The lamp stays dark
equipment: [cot lamp]
urgency: soon
revision: 2
date: 2026-11-20
status: draft
fallback:
  - {who: crew, do: Work with the spare lamp.}
  - {who: crew, do: Take the cell out. Put it in again., closes: [cell-out], opens: [tag]}
causes:
  cell-flat: {is: Cell flat, shows: {volts: Flat}}
  switch-worn: {is: Switch worn, shows: {volts: Good}}
start: spare-cell
steps:
  spare-cell:
    check: Does it light with a spare cell?
    who: crew
    notices: [hot-lens]
    opens: [cell-out]
    findings: {Lights: volts, Stays dark: volts}
    unable: {to: volts, why: no spare cell}
  volts:
    check: Is the cell good?
    measure: cell-volts
    who: crew
    occupied: allowed
    findings: {Flat: fit-cell, Good: fit-switch, No reading: {goto: fit-cell}}
    unable: {to: fit-cell}
  fit-cell:
    fix: Fit a cell
    clears: [cell-flat]
    who: crew
    notices: [wrong-cell]
    do: [Read the cap., Fit the cell.]
    closes: [cell-out]
    operational_check: lights
    failed: fit-switch
    cannot: defer
  fit-switch:
    fix: Fit a switch
    clears: [switch-worn]
    who: mechanic
    people: 2
    do: [Fit the switch.]
    closes: [cell-out]
    second_inspection: {look: Seal lies in its groove}
    operational_check: lights
    failed: out-of-use
    cannot: defer
  defer:
    end: deferred
    under: {LAMP-01: "7"}
    until: the next check
    accepts: [cell-flat, switch-worn]
    when: [The spare lamp works., The tag hangs.]
    cannot: out-of-use
  out-of-use:
    end: out of service
    do: [Hang the tag on the lamp.]
""",
}
DATA = {name: text.encode() for name, text in FILES.items()}

NOON = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.timezone(datetime.timedelta(hours=2)))


def load(folder: Path, tree: str) -> tuple[Tree, Library]:
    loaded = load_tree(folder, tree)
    assert loaded.library, loaded.problems
    return loaded.trees[tree], loaded.library


def written(folder: Path, files: Mapping[str, bytes] = DATA) -> Path:
    """The library written below ``folder``."""
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return folder


def filled(move: Move, chance: random.Random) -> Move:
    """A possible move with what a person would say."""
    text = chance.choice(["", "Ärger am Stecker", 'said "no"', "two\nlines", "\u2028 ⚡"])
    if move.kind in (Kind.NOTE, Kind.ALSO_FOUND, Kind.UNABLE, Kind.CANNOT, Kind.INSPECTED, Kind.STOP):
        return replace(move, text=text)
    if move.kind == Kind.CLOSED:
        return replace(move, text="Ä. B.")
    if move.kind == Kind.FALLBACK:
        return replace(move, line=chance.randrange(3))
    if move.kind == Kind.HAND_OVER:
        return replace(move, to="mechanic", text=text)
    if move.kind == Kind.TAKE_OVER:
        return replace(move, role=chance.choice(["crew", "mechanic"]), occupant=chance.choice(["", "off", "on"]))
    if move.kind == Kind.FINDING and move.label in ("Flat", "Good"):
        return Move(Kind.READING, value=f"{chance.uniform(0, 3):.2f} V")
    return move


def random_move(walk: Walk, chance: random.Random) -> Move:
    """A move that ``walk`` allows, forward ones more often."""
    moves = possible_moves(walk)
    weights = [1 if move.kind in RARE else 8 for move in moves]
    return filled(chance.choices(moves, weights)[0], chance)


RARE = (
    Kind.NOTE,
    Kind.ALSO_FOUND,
    Kind.BACK,
    Kind.START_OVER,
    Kind.FALLBACK,
    Kind.HAND_OVER,
    Kind.STOP,
    Kind.TAKE_OVER,
    Kind.OCCUPANT_ON,
)


def begun(
    folder: Path,
    tree: Tree,
    library: Library,
    move: Move | None = None,
    facts: Facts | None = None,
    now: datetime.datetime = NOON,
    seed: int = 1,
) -> tuple[Journal, Walk]:
    """A new walk with its journal in ``folder``."""
    move = move or Move(Kind.BEGIN, model="Wren")
    walk = begin(tree, library, move)
    return create(folder, DATA, walk, move, facts or Facts(), now, random.Random(seed).randbytes), walk


MOVES = (
    Move(Kind.OCCUPANT_OFF),
    Move(Kind.ACKNOWLEDGE),
    Move(Kind.FINDING, label="Lights"),
    Move(Kind.READING, value="1.05 V"),
)


def added(journal: Journal, walk: Walk, *moves: Move, now: datetime.datetime = NOON) -> Walk:
    """The walk after the moves, each of them recorded."""
    for move in moves:
        walk = apply(walk, move)
        journal.append(walk, now)
    return walk


def walked(loaded: Loaded, moves: tuple[Move, ...]) -> Walk:
    """The walk after the moves, recorded nowhere."""
    walk = begin(*loaded, Move(Kind.BEGIN, model="Wren"))
    for move in moves:
        walk = apply(walk, move)
    return walk


def child(*words: object) -> subprocess.Popen[str]:
    """The script in a process of its own."""
    return subprocess.Popen(
        [sys.executable, str(CHILD), *map(str, words)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=ENVIRON,
    )
