"""A tree whose texts look like markup and escapes, are very long, or are of scripts and signs that few fonts have.

Each letter of them is shown, on the page that it belongs to, whatever the size and looks of the terminal; and nothing
of it reaches the terminal as anything else than letters. Real control characters cannot stand in a tree, so they come
by the ways that are left: the words of the command line, names of files, trees that are refused, and what is pasted.
"""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from hostile import SAMPLE
from rich.cells import cell_len
from tui_runs import LAMP, PHONE, USUAL, Ramp, letters, running

from faulttree.checking import check_library
from faulttree.keys import Kind
from faulttree.library import load_library, load_tree
from faulttree.model import Library, Tree
from faulttree.problems import ERROR
from faulttree.tui.looks import Looks
from faulttree.tui.widgets.paper import Paper
from faulttree.visible import BIDI_CONTROLS, one_line, visible

MARKUP = "[bold]x[/] [/red] [@click=app.leave]y[/] [A1-3]"
CODES = r"\x1b[2J \033[31m %s {0} ${x} \n"
LONG = "W" * 130
WIDE = "\u97f3" * 45
RIGHT_TO_LEFT = "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627"
EMOJI = "\U0001f681 \U0001f469\u200d\U0001f692 \U0001f1e9\U0001f1ea \u2764\ufe0f"
MARKS = "e\u0301\u0302" * 6 + " Z" + "\u0334\u0321\u035d" * 12
ALL = f"{MARKUP} {CODES} {LONG} {WIDE} {RIGHT_TO_LEFT} {EMOJI} {MARKS}"

NAMES = (
    "A" * 24,
    "\u97f3" * 24,
    RIGHT_TO_LEFT,
    "\U0001f681 \U0001f692",
    "long name of two dozen s",
    "x" * 23 + "6",
    "--help",
    "%s %n <b>",
    "Nine",
)
"""Nine findings; a name has at most 24 signs and no brackets (as its rule says), what it says may be anything."""

ESCAPE = "\x1b[2J\x1b]0;title\x07\x9b31m\u202etxt\u202c\u2028end"
"""What clears a terminal, names its window, colours it and turns the direction of writing."""

SHAPES = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[PX^_][^\x1b]*\x1b\\|[ -/]*[0-~])")
"""Control sequences (ECMA-48): CSI, OSC, the other strings, and those of two or three characters."""


# -- the tree


def quoted(text: str) -> str:
    """The text as YAML in single quotes, where nothing is an escape."""
    return "'" + text.replace("'", "''") + "'"


QUESTION = f"Is it {MARKUP} {RIGHT_TO_LEFT} {EMOJI} {LONG}?"
HOW = f"Look at {CODES} {MARKS} {WIDE}."
SYMPTOM = f"The lamp {MARKUP} {RIGHT_TO_LEFT} {EMOJI} does not light"
BEFORE = f"{MARKS} {WIDE} {CODES}."
FIRST = f"Take {LONG} {MARKUP}."
FALLBACK = f"Work with {EMOJI} {RIGHT_TO_LEFT} {MARKUP} {LONG}."
HAZARD = f"The lens {MARKUP} {MARKS} gets hot in use"
OPEN = f"Cell {MARKUP} {EMOJI} lies outside the lamp"
END = f"Hang {ALL} on the lamp."


def says(at: int) -> str:
    """What a finding says, long enough that nine of them are longer than a terminal."""
    return f"{at} {(MARKUP, CODES, LONG, RIGHT_TO_LEFT, EMOJI, MARKS, WIDE, 'many words ' * 20, ']]')[at]} is so"


def nine() -> str:
    """A check with nine findings that stands before all others of the sample's tree."""
    findings = "".join(
        f"      {quoted(name)}: {{says: {quoted(says(at))}, goto: {'out-of-use' if at == 8 else 'spare-cell'}}}\n"
        for at, name in enumerate(NAMES)
    )
    return f"""start: nine
steps:
  nine:
    check: {quoted(QUESTION)}
    do: [{quoted(HOW)}]
    who: user
    minutes: 1
    usual: {quoted(NAMES[0])}
    findings:
{findings}    unable: {{to: spare-cell, why: {quoted(MARKUP)}}}

"""


def hostile_library(folder: Path) -> Path:
    """The sample with such texts in it; sound, or it would not be walked."""
    shutil.copytree(SAMPLE, folder)
    changed = {
        "lamp-does-not-light.yaml": (
            ("symptom: The lamp does not light", f"symptom: {quoted(SYMPTOM)}"),
            ("- The lamp is out of the charger.", f"- {quoted(BEFORE)}"),
            ("do: Take another lamp. Hang the tag on this one.", f"do: {quoted(FIRST)}"),
            ("do: Work with the spare lamp.", f"do: {quoted(FALLBACK)}"),
            ("start: spare-cell\nsteps:\n", nine()),
            ("- Hang the tag on the lamp. Tell the store.", f"- {quoted(END)}"),
        ),
        "notices.yaml": (("hazard: The lens gets hot in use", f"hazard: {quoted(HAZARD)}"),),
        "library.yaml": (("is: Cell lies outside the lamp", f"is: {quoted(OPEN)}"),),
    }
    for name, changes in changed.items():
        text = (folder / name).read_text(encoding="utf-8")
        for before, after in changes:
            assert text.count(before) == 1, before
            text = text.replace(before, after)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return hostile_library(tmp_path_factory.mktemp("hostile") / "library")


def test_the_tree_is_sound_and_says_what_it_should(library: Path) -> None:
    loaded = load_library(library)
    assert not [problem for problem in check_library(loaded) if problem.severity == ERROR]
    whole, shared = loaded.trees[LAMP], loaded.library
    assert isinstance(whole, Tree)
    assert isinstance(shared, Library)
    step = whole.variants["Finch"].steps["nine"]
    assert [finding.label for finding in step.findings] == list(NAMES)  # type: ignore[union-attr]
    assert (whole.symptom, shared.open_items["cell-out"].text) == (SYMPTOM, OPEN)


# -- each letter


LOOKS = [Looks(), Looks(colour=False), Looks(day=True, ascii=True)]


def shown_now(ramp: Ramp) -> dict[int, str]:
    """The rows of the page that are on the terminal, by their places on the page."""
    paper = ramp.screen.query(Paper).first()
    region = paper.region
    rows = ramp.strips[region.y : region.y + region.height]
    for row in rows:
        assert visible(row) == row
        assert cell_len(row) == ramp.app.size.width
    return {paper.place_of(at): row for at, row in enumerate(rows)}


async def page(ramp: Ramp) -> str:
    """All letters of the page, read from the terminal down to its end."""
    await ramp.press("home")
    found = shown_now(ramp)
    for _ in range(100):
        if not ramp.screen.query(Paper).first().below:
            break
        await ramp.press("space")
        found |= shown_now(ramp)
    assert sorted(found) == list(range(len(found)))
    return letters("".join(found[at] for at in sorted(found)))


async def check_page(ramp: Ramp, *texts: str) -> None:
    """Each letter of the texts stands on the page, in its order."""
    found = await page(ramp)
    for text in texts:
        assert letters(ramp.app.looks.fit(text)) in found, text


async def check_way(ramp: Ramp) -> None:
    """From the first page to the end, each page with its texts."""
    await check_page(ramp, SYMPTOM)
    await ramp.press("1")
    await check_page(ramp, "Which one is it?")
    await ramp.press("1")
    await check_page(ramp, FIRST, BEFORE)
    await ramp.press("enter")
    await check_page(ramp, QUESTION, HOW, *NAMES, *map(says, range(len(NAMES))))
    await ramp.press("e")
    await check_page(ramp, SYMPTOM, QUESTION, HOW, *NAMES)
    await ramp.press("enter", "f")
    await check_page(ramp, FALLBACK)
    await ramp.press("escape", "question_mark")
    await check_page(ramp, *NAMES, *map(says, range(len(NAMES))))
    await ramp.press("enter")
    await page(ramp)
    await ramp.press("5")
    await check_page(ramp, HAZARD)
    await ramp.press("a")
    assert ramp.kinds == [Kind.BEGIN, Kind.FINDING, Kind.ACKNOWLEDGE]
    await ramp.press("w")
    await check_page(ramp, OPEN)
    await ramp.press("enter", "l")
    await check_page(ramp, NAMES[4])
    await ramp.press("b", "b")
    await page(ramp)
    await ramp.press("9")
    await last_pages(ramp)


async def last_pages(ramp: Ramp) -> None:
    """The last look, the end, and all of it."""
    await check_page(ramp, NAMES[8])
    await ramp.press("enter")
    await check_page(ramp, END)
    await ramp.press("e")
    await check_page(ramp, END, SYMPTOM)
    assert ramp.walk.ended


@pytest.mark.usefixtures("quick_keys")
@pytest.mark.parametrize("size", [PHONE, USUAL], ids=str)
@pytest.mark.parametrize("looks", LOOKS, ids=("colour", "no colour", "ascii"))
async def test_every_letter_is_shown(walks: Path, library: Path, size: tuple[int, int], looks: Looks) -> None:
    async with running(walks, size=size, looks=looks, library=library) as ramp:
        await check_way(ramp)
        if looks.ascii:
            assert ramp.text.isascii()
        if not looks.colour:
            check_no_colour(ramp)


def check_no_colour(ramp: Ramp) -> None:
    """No look of ours has a colour."""
    paper = ramp.screen.query(Paper).first()
    for y in range(paper.size.height):
        styles = [segment.style for segment in paper.render_line(y) if segment.style]
        assert not any(style.color or style.bgcolor for style in styles)


@pytest.mark.usefixtures("quick_keys")
async def test_what_looks_like_a_link_is_none(walks: Path, library: Path) -> None:
    """A tap on each cell of the first page's symptom begins it, and nothing that stands in it is run."""
    async with running(walks, library=library) as ramp:
        row = next(at for at, line in enumerate(ramp.strips) if "@click" in line)
        for x in range(0, USUAL[0], 8):
            await ramp.pilot.click(offset=(x, row))
            await ramp.settle()
            assert not ramp.is_left
            if ramp.name != "FindScreen":
                assert ramp.name == "ChooseScreen"
                await ramp.press("b")


# -- the bytes of a terminal


def shape(sequence: str) -> str:
    """A control sequence without the numbers that differ from page to page: of looks, and of the cursor's place."""
    return re.sub(r"[0-9;:]+", "", sequence) if sequence[-1] in "mH" and sequence.startswith("\x1b[") else sequence


def check_written(written: bytes) -> set[str]:
    """The shapes of the control sequences; beside these there is nothing that acts on a terminal."""
    text = written.decode("utf-8")
    rest = SHAPES.sub("", text)
    for line in rest.split("\n"):
        assert one_line(line.replace("\r", "")) == line.replace("\r", "")
    assert not BIDI_CONTROLS & set(rest)
    return {shape(found.group()) for found in SHAPES.finditer(text)}


def strange_library(tmp_path: Path) -> Path:
    """The hostile library with files that are refused: escapes in names and in a tree."""
    folder = hostile_library(tmp_path / "library")
    tree = (folder / "lamp-does-not-light.yaml").read_text(encoding="utf-8")
    (folder / "refused.yaml").write_text(tree.replace("The lamp", ESCAPE).replace(LAMP, "refused"), encoding="utf-8")
    (folder / "esc\x1b[2J\x1b]0;title\x07.yaml").write_text(tree, encoding="utf-8")
    (folder / "turned\u202e.yaml").write_text("just words", encoding="utf-8")
    return folder


PLAIN_WAY = (("1", "Which one"), ("1", "all this is so"))
HOSTILE_WAY = (
    *PLAIN_WAY,
    ("\r", "more"),
    ("f", "more"),
    ("\x1b", "stop"),
    ("n", "take it"),
    (f"\x1b[200~{ESCAPE}\x1b[201~", "end"),
    ("\r", "Written down"),
    ("w", "NOT AVAILABLE"),
    ("b", "stop"),
    ("h", "whom"),
    ("1", "leave"),
    ("\r", "walk waits"),
)
"""The walk is handed over at last: then it waits on the first page, with what it is about."""


def run(tmp_path: Path, library: Path, way: tuple[tuple[str, str], ...], words: tuple[str, ...], **more: str) -> bytes:
    """All that is written to a terminal on this way and until the program is left."""
    from test_tui_terminal import on_terminal

    tmp_path.mkdir(exist_ok=True)
    with on_terminal(tmp_path, "walk", *words, library=library, **more) as terminal:
        terminal.wait_for("What is wrong?")
        written = b""
        for keys, then in way:
            terminal.read(0.2)
            written += terminal.written
            terminal.press(keys, then)
        written += terminal.written
        terminal.press("\x11")
        assert terminal.ended() in (0, 3)
        written += terminal.written
    assert b"Traceback" not in written
    return written


@pytest.mark.parametrize(
    ("words", "more"), [((), {}), ((), {"NO_COLOR": "1"}), (("--ascii",), {})], ids=("colour", "no colour", "ascii")
)
def test_nothing_of_it_acts_on_the_terminal(tmp_path: Path, words: tuple[str, ...], more: dict[str, str]) -> None:
    """A harmless tree and a hostile one have the same shapes of control sequences written, and no other controls."""
    from test_tui_terminal import recorded_in

    usual = check_written(run(tmp_path / "a", SAMPLE, PLAIN_WAY, words, **more))
    about = ("--aircraft", ESCAPE, "--item", "\x1b[31mred", *words)
    written = run(tmp_path / "b", strange_library(tmp_path), HOSTILE_WAY, about, **more)
    assert check_written(written) <= usual
    assert not words or written.isascii()
    assert rb"\x1b[2J" in written, "otherwise the codes were not shown"
    [note] = [entry.move.text for entry in recorded_in(tmp_path / "b").entries if entry.move.kind == Kind.NOTE]
    assert note.isprintable()
    assert "txt" in note, "what is left of what was pasted"


def test_the_refused_tree_is_refused_in_words(tmp_path: Path) -> None:
    """By its name, before a screen is opened."""
    from test_tui_terminal import on_terminal

    strange = strange_library(tmp_path)
    assert "refused" not in load_tree(strange, LAMP).trees
    with on_terminal(tmp_path, "walk", "refused", library=strange) as terminal:
        assert terminal.ended() == 1
        assert b"\x1b[?1049h" not in terminal.written
        told = SHAPES.sub("", terminal.written.decode("utf-8")).replace("\r", "")
        assert all(visible(line) == line for line in told.split("\n"))
        assert "Traceback" not in told
        assert b"\x1b[2J" not in terminal.written
