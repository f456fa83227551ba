"""The pictures of docs/pictures, taken from the running screen: ``python -m tests.pictures`` takes them all anew.

Each is a short walk, played key by key, and the terminal as it then stands, drawn as SVG. Nothing in a picture points
outside, and taking it twice gives the same bytes: no picture is taken where a time or the name of a walk is shown.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
from collections.abc import Callable, Coroutine, Iterator, Sequence
from contextlib import contextmanager
from html import escape
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "docs" / "pictures"
# The helpers of the tests stand in folders that are known to Python only where tests are run.
sys.path += [str(ROOT / "tests"), str(ROOT / "tests" / "tui")]

from rich.style import Style  # noqa: E402
from tui_runs import PHONE, REL, USUAL, Ramp, running  # noqa: E402

from faulttree.tui.guard import Guard  # noqa: E402
from faulttree.tui.looks import Looks  # noqa: E402
from faulttree.tui.widgets.paper import Paper  # noqa: E402

WIDE, HIGH, EDGE = 10, 19, 12
"""Pixels of a cell, and of the margin around all of them."""

LETTERS = 16.5
"""Pixels of a letter's size: high enough that blocks of neighbouring rows touch."""


# -- walks that are played


async def press(ramp: Ramp, keys: str) -> None:
    """Press keys, named one after another with blanks between, each once its page was read to the end."""
    for key in keys.split():
        await to_its_end(ramp)
        await ramp.press(key)


async def to_the_step(ramp: Ramp) -> None:
    """Say that the people are here and read the warnings, up to the step itself."""
    while gate := {"a", "enter"} & {key for key, words in GATES.items() if offers(ramp, key, words)}:
        await press(ramp, gate.pop())


GATES = {"a": "I have read", "enter": "people here"}


def offers(ramp: Ramp, key: str, words: str) -> bool:
    """Whether the page of now, seen or not, has a row with that key and these words."""
    return any(row.key == key and words in row.text for row in ramp.screen.query(Paper).first()._rows)


async def answer(ramp: Ramp, *keys: str) -> None:
    """Give answers, each at its step."""
    for key in keys:
        await to_the_step(ramp)
        await press(ramp, key)


async def to_its_end(ramp: Ramp) -> None:
    """Read the page to its end, where a small terminal has not room for all of it."""
    while ramp.shows("DOWN more"):
        await ramp.press("space")


async def find(ramp: Ramp) -> None:
    """The first page."""


async def patient(ramp: Ramp) -> None:
    await press(ramp, "2")


async def start(ramp: Ramp) -> None:
    await press(ramp, "2 1")


async def warnings(ramp: Ramp) -> None:
    await press(ramp, "2 1 enter")


async def check(ramp: Ramp) -> None:
    await press(ramp, "2 1 enter")
    await to_the_step(ramp)


async def fallback(ramp: Ramp) -> None:
    await check(ramp)
    await press(ramp, "f")


async def hand_over(ramp: Ramp) -> None:
    await check(ramp)
    await answer(ramp, "3", "1", "1")
    await press(ramp, "h")


async def code(ramp: Ramp) -> None:
    await hand_over(ramp)
    await press(ramp, "k")


async def to_free_play(ramp: Ramp, *answers: str) -> None:
    """By the mechanic, patient off, to the measured check."""
    await press(ramp, "2")
    while ramp.shows("Enter go on"):
        await press(ramp, "enter")
    await answer(ramp, *(answers or ("3", "1", "1")))
    await to_the_step(ramp)


async def last_look(ramp: Ramp) -> None:
    """With findings that too large a free play may show."""
    await to_free_play(ramp, "3", "2", "1", "1")
    await press(ramp, "m")
    await ramp.enter("9 mm")


async def fix(ramp: Ramp) -> None:
    """The cable is replaced; the first three lines are done."""
    await to_free_play(ramp)
    await press(ramp, "4 enter 2 enter")
    await to_the_step(ramp)
    await press(ramp, "enter enter enter")


async def operational_check(ramp: Ramp) -> None:
    await fix(ramp)
    await press(ramp, "enter " * 10 + "i")
    await ramp.enter("AB")
    await to_the_step(ramp)


async def corrected(ramp: Ramp) -> None:
    await operational_check(ramp)
    await press(ramp, "1")


class Picture(NamedTuple):
    """A picture: what it shows, the walk to it, words of the page it is of, and how the program was started."""

    title: str
    played: Callable[[Ramp], Coroutine[Any, Any, None]]
    words: str
    role: str = ""
    size: tuple[int, int] = USUAL
    looks: Looks = Looks()


PICTURES = {
    "find": Picture("The first page: what is wrong?", find, "What is wrong?"),
    "patient": Picture("The question whether a patient is on the cot", patient, "Is a patient on the cot?"),
    "start": Picture("The start page with what is done at once", start, "At once:"),
    "warnings": Picture("Warnings before a step, acknowledged by the key a", warnings, "I have read these: 1 to 2"),
    "check": Picture("A check with its findings, a patient is aboard", check, "Do this once only."),
    "check-by-day": Picture("The same check in day view", check, "Do this once only.", looks=Looks(day=True)),
    "fallback": Picture(
        "The fallback: what to do when the patient cannot wait", fallback, "Fallback: when it cannot wait"
    ),
    "hand-over": Picture("The hand-over page", hand_over, "HAND-OVER."),
    "code": Picture("The read-back code in large letters", code, "Read-back code:"),
    "phone": Picture(
        "A measured check on a terminal of 40 columns and 20 rows",
        to_free_play,
        "What is the free play at the handle grip?",
        "mechanic",
        PHONE,
    ),
    "last-look": Picture("The last look before work", last_look, "Before it, look once more.", "mechanic"),
    "fix": Picture("A fix with three lines done", fix, "NEXT: Note the clip run", "mechanic"),
    "operational-check": Picture(
        "An operational check", operational_check, "Operational check: Lock and release check.", "mechanic"
    ),
    "corrected": Picture("The end page after a passed operational check", corrected, "FAULT CORRECTED.", "mechanic"),
}
"""The pictures by their names. Those of the crew are practice, as the training walk is."""


# -- taking them


def taken(name: str) -> str:
    """The picture of that name as SVG."""
    with tempfile.TemporaryDirectory() as folder, no_silence():
        return asyncio.run(_taken(PICTURES[name], Path(folder)))


async def _taken(picture: Picture, walks: Path) -> str:
    tree = REL if picture.role else ""
    wanted = {"size": picture.size, "looks": picture.looks, "practice": not picture.role}
    async with running(walks, tree, picture.role, **wanted) as ramp:
        await picture.played(ramp)
        assert ramp.shows(picture.words), f"the walk to this picture leads elsewhere: {ramp.text}"
        rows = [list(strip) for strip in ramp.app.screen._compositor.render_strips()]
        return drawn(picture.title, rows, picture.size, picture.looks)


@contextmanager
def no_silence() -> Iterator[None]:
    """The same key counts again at once: here nobody holds a key down."""
    before = Guard.__init__.__defaults__
    Guard.__init__.__defaults__ = (-1.0,)  # type: ignore[misc]
    try:
        yield
    finally:
        Guard.__init__.__defaults__ = before  # type: ignore[misc]


# -- drawing


class Run(NamedTuple):
    """Letters of one style, beside each other in a row."""

    row: int
    column: int
    text: str
    ink: str
    paper: str
    bold: bool


def runs_of(rows: Sequence[Sequence[Any]], looks: Looks) -> Iterator[Run]:
    """The rows of a terminal as runs. Every character shown takes one cell."""
    for at, row in enumerate(rows):
        letters = [(letter, _style(segment.style, looks)) for segment in row for letter in segment.text]
        column = 0
        for (ink, paper, bold), found in groupby(letters, key=lambda each: each[1]):
            text = "".join(letter for letter, _ in found)
            yield Run(at, column, text, ink, paper, bold)
            column += len(text)


def _style(style: Style | None, looks: Looks) -> tuple[str, str, bool]:
    style = style or Style()
    ink = style.color.get_truecolor().hex if style.color else looks.colours.ink
    paper = style.bgcolor.get_truecolor().hex if style.bgcolor else looks.colours.paper
    return ink, paper, bool(style.bold)


def drawn(title: str, rows: Sequence[Sequence[Any]], size: tuple[int, int], looks: Looks) -> str:
    """A terminal as SVG: its paper, what stands on other paper, and its letters."""
    wide, high = size[0] * WIDE + 2 * EDGE, size[1] * HIGH + 2 * EDGE
    paper = looks.colours.paper
    runs = list(runs_of(rows, looks))
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
            'role="img">',
            f"<title>{escape(title)}</title>",
            f'<rect width="{wide}" height="{high}" fill="{paper}" stroke="#808080"/>',
            *(_paper(run) for run in runs if run.paper != paper),
            f'<g font-family="monospace" font-size="{LETTERS}" xml:space="preserve">',
            *(_letters(run) for run in runs if run.text.strip()),
            "</g>",
            "</svg>",
            "",
        )
    )


def _place(run: Run, blanks: int = 0) -> tuple[int, int]:
    return EDGE + (run.column + blanks) * WIDE, EDGE + run.row * HIGH


def _paper(run: Run) -> str:
    x, y = _place(run)
    return f'<rect x="{x}" y="{y}" width="{len(run.text) * WIDE}" height="{HIGH}" fill="{run.paper}"/>'


def _letters(run: Run) -> str:
    """The letters, stretched to their cells whatever the letters of the reader's machine are like."""
    text = run.text.strip()
    x, y = _place(run, len(run.text) - len(run.text.lstrip()))
    weight = ' font-weight="bold"' if run.bold else ""
    return (
        f'<text x="{x}" y="{y + 15}" textLength="{len(text) * WIDE}" lengthAdjust="spacingAndGlyphs" '
        f'fill="{run.ink}"{weight}>{escape(text, quote=False)}</text>'
    )


def main() -> None:
    """Take all pictures anew; those that are no more are removed."""
    FOLDER.mkdir(exist_ok=True)
    for path in FOLDER.glob("*.svg"):
        if path.stem not in PICTURES:
            path.unlink()
    for name in PICTURES:
        (FOLDER / f"{name}.svg").write_text(taken(name), encoding="utf-8")


if __name__ == "__main__":
    main()
