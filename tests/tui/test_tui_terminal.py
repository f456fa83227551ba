"""The program as it is started, on a terminal of its own: how it is left, by keys and by signals, and what stays.

The terminal is a pseudo terminal of the standard library; where there is none, these tests are left out.
"""

from __future__ import annotations

import os
import re
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from tui_runs import SAMPLE, SHIPPED

from faulttree.journal import Recorded, read_journal, summaries
from faulttree.keys import Kind
from faulttree.tui.guard import SILENCE

pty = pytest.importorskip("pty")
termios = pytest.importorskip("termios")
fcntl = pytest.importorskip("fcntl")

ROOT = Path(__file__).parents[2]
PATIENCE = 20.0
"""Seconds until something has to be on the terminal."""

ESCAPE_CODES = re.compile(
    rb"\x1b(\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(\x07|\x1b\\)|[PX^_][^\x1b]*\x1b\\|[@-Z\\-_=>]|[()].)"
)


class Terminal:
    """A program on a pseudo terminal of 80 by 24: what it writes, and keys for it."""

    def __init__(self, process: subprocess.Popen[bytes], end: int) -> None:
        self.process = process
        self.end = end
        self.written = b""
        self.pressed: dict[str, float] = {}

    def read(self, seconds: float) -> bool:
        """Take what is written within so many seconds; whether there may be more."""
        if not select.select([self.end], [], [], seconds)[0]:
            return True
        try:
            more = os.read(self.end, 65536)
        except OSError:
            return False
        self.written += more
        return bool(more)

    def wait_for(self, text: str) -> None:
        """Wait until the letters of a text were written, over colours and places of the cursor."""
        assert self.is_written(text, PATIENCE), self.plain[-2000:]

    def is_written(self, text: str, seconds: float) -> bool:
        """Whether the text is written within so many seconds."""
        until = time.monotonic() + seconds
        while text not in self.plain:
            if time.monotonic() > until or not self.read(0.1):
                return text in self.plain
        return True

    @property
    def plain(self) -> str:
        return ESCAPE_CODES.sub(b"", self.written).decode("utf-8", "replace")

    def press(self, keys: str, then: str = "") -> None:
        """Send keys and wait for what they lead to; what came too early is pressed again, as a person would."""
        self.written = b""
        for _ in range(6):
            time.sleep(max(0.15, self.pressed.get(keys, 0) + SILENCE + 0.1 - time.monotonic()))
            self.pressed[keys] = time.monotonic()
            os.write(self.end, keys.encode())
            if not then or self.is_written(then, 3):
                return
        raise AssertionError(f"{keys!r} does not lead to {then!r}: {self.plain[-2000:]}")

    def ended(self) -> int:
        """Take all that is still written; the exit code."""
        until = time.monotonic() + PATIENCE
        while self.read(0.1) and self.process.poll() is None:
            assert time.monotonic() < until
        while self.read(0.05) and select.select([self.end], [], [], 0.05)[0]:
            pass
        return self.process.wait(PATIENCE)


def surroundings(tmp_path: Path, **more: str) -> dict[str, str]:
    """What the program finds around itself: a common terminal, and all of the user's folders below a temporary one."""
    left_out = ("FAULTTREE_PLAIN", "NO_COLOR", "FORCE_COLOR", "COLUMNS", "LINES")
    environ = {name: value for name, value in os.environ.items() if name not in left_out}
    environ |= {"TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", "PYTHONPATH": str(ROOT)}
    folders = {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_STATE_HOME": str(tmp_path / "state")}
    return environ | folders | {"HOME": str(tmp_path)} | more


PROGRAM = ("-m", "faulttree")


def begun_by(*lines: str) -> tuple[str, str]:
    """The program, begun after these lines of Python."""
    after = ("import sys", "from faulttree.cli.main import main", "sys.exit(main())")
    return "-c", "\n".join((*lines, *after))


@contextmanager
def on_terminal(
    tmp_path: Path, *words: str, library: Path = SHIPPED, program: Sequence[str] = PROGRAM, **more: str
) -> Iterator[Terminal]:
    """``faulttree`` with these words on a terminal of its own, in a session of its own."""
    mine, its = pty.openpty()
    fcntl.ioctl(its, termios.TIOCSWINSZ, b"\x18\x00\x50\x00\x00\x00\x00\x00")
    process = subprocess.Popen(
        [sys.executable, *program, *words],
        stdin=its,
        stdout=its,
        stderr=its,
        cwd=tmp_path,
        env=surroundings(tmp_path, FAULTTREE_LIBRARY=str(library), **more),
        start_new_session=True,
    )
    os.close(its)
    try:
        yield Terminal(process, mine)
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()
        with suppress(OSError):
            os.close(mine)


def walks_of(tmp_path: Path) -> Path:
    return tmp_path / "data" / "faulttree" / "walks"


def recorded_in(tmp_path: Path) -> Recorded:
    """The only walk that was begun, as it is on the disk: whole, and chained from its first line to its last."""
    [summary] = summaries(walks_of(tmp_path), include_ended=True)
    recorded = read_journal(summary.path)
    assert recorded.torn == b""
    return recorded


def kinds_in(tmp_path: Path) -> list[Kind]:
    """The moves that are on the disk."""
    return [entry.move.kind for entry in recorded_in(tmp_path).entries]


def last_of(written: bytes) -> str:
    """What stands on the terminal once the second screen was left, in one line."""
    return " ".join(ESCAPE_CODES.sub(b"", written.rpartition(b"\x1b[?1049l")[2]).decode().split())


def log_of(tmp_path: Path) -> Path:
    """Where the traceback of what nobody expected is written."""
    return tmp_path / "state" / "faulttree" / "faulttree.log"


def with_hazard(tmp_path: Path) -> Path:
    """The sample's library, with a cell that is a hazard where it lies outside."""
    library = Path(shutil.copytree(SAMPLE, tmp_path / "library"))
    shared = library / "library.yaml"
    text = shared.read_text(encoding="utf-8")
    assert "kind: disturbance" in text
    shared.write_text(text.replace("kind: disturbance", "kind: hazard"), encoding="utf-8")
    return library


def check_left_in_order(written: bytes) -> None:
    """The last that a terminal is told: no second screen, a cursor, no mouse, no pasting in brackets.

    The modes are those of xterm's control sequences: 1049 is the second screen, 25 the cursor, 1000, 1002, 1003, 1006
    and 1015 the mouse, 2004 pasting in brackets (ctlseqs, DEC private modes; from memory, sure).
    """
    modes: dict[str, str] = {}
    for numbers, state in re.findall(rb"\x1b\[\?([0-9;]+)([hl])", written):
        modes |= dict.fromkeys(numbers.decode().split(";"), state.decode())
    assert modes["1049"] == "l"
    assert modes["25"] == "h"
    for mode in ("1000", "1002", "1003", "1006", "1015", "2004"):
        assert modes.get(mode, "l") == "l", mode


def begun_walk(terminal: Terminal) -> None:
    """A walk of the sample's lamp, with the cell taken out."""
    terminal.wait_for("Which one is it?")
    terminal.press("1", "all this is so")
    terminal.press("\r", "I have read")
    terminal.press("a", "Take the cell out.")


LAMP_WALK = ("walk", "lamp-does-not-light", "--as", "repairer")
LAST = "STILL OPEN (disturbance): Cell lies outside the lamp."
HAZARD = "STILL OPEN (hazard): Cell lies outside the lamp."


# -- left by signals and keys


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_in_the_middle_of_a_walk_leaves_journal_and_terminal_in_order(
    tmp_path: Path, number: signal.Signals
) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=with_hazard(tmp_path)) as terminal:
        begun_walk(terminal)
        os.kill(terminal.process.pid, number)
        code = terminal.ended()
        check_left_in_order(terminal.written)
        last = last_of(terminal.written)
    assert code == 3
    assert HAZARD in last
    assert "NOT APPROVED FOR RETURN TO SERVICE" in last
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]
    assert f"--resume {recorded_in(tmp_path).header.walk}" in last
    assert not log_of(tmp_path).exists()


def test_a_signal_while_something_is_typed_records_nothing_of_it(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        terminal.press("n", "take it")
        terminal.press("half a wo", "half a wo")
        os.kill(terminal.process.pid, signal.SIGTERM)
        assert terminal.ended() == 3
        check_left_in_order(terminal.written)
        assert LAST in last_of(terminal.written)
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]


@pytest.mark.skipif(not hasattr(termios, "TIOCSCTTY"), reason="a terminal cannot be made the process's own here")
def test_a_terminal_that_is_closed_ends_the_program_with_all_recorded(tmp_path: Path) -> None:
    """The window is shut: the system sends SIGHUP to whose terminal it was, and writing to it fails from then on."""
    own = begun_by("import fcntl, termios", "fcntl.ioctl(0, termios.TIOCSCTTY, 0)")
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE, program=own) as terminal:
        begun_walk(terminal)
        os.close(terminal.end)
        terminal.process.wait(PATIENCE)
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]
    assert not log_of(tmp_path).exists(), log_of(tmp_path).read_text(encoding="utf-8")
    with on_terminal(tmp_path, "walk", "--resume", recorded_in(tmp_path).header.walk, library=SAMPLE) as terminal:
        terminal.wait_for("Your role?")
        terminal.press("\x11")
        terminal.ended()


def test_a_terminal_that_goes_away_without_a_signal_ends_the_program_too(tmp_path: Path) -> None:
    """It is not the process's own terminal, so that nothing is sent; nobody is there to read or to type any more."""
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        os.close(terminal.end)
        terminal.process.wait(PATIENCE)
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]
    assert not log_of(tmp_path).exists(), log_of(tmp_path).read_text(encoding="utf-8")


@pytest.mark.parametrize("key", ["s", "\x11", "\x03"])
def test_leaving_by_a_key_leaves_journal_and_terminal_in_order(tmp_path: Path, key: str) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=with_hazard(tmp_path)) as terminal:
        begun_walk(terminal)
        terminal.press(key)
        code = terminal.ended()
        check_left_in_order(terminal.written)
        last = last_of(terminal.written)
    assert code == 3
    assert HAZARD in last
    assert "NOT APPROVED FOR RETURN TO SERVICE" in last
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.STOP]


def test_without_a_word_the_symptoms_are_shown_and_ctrl_q_leaves(tmp_path: Path) -> None:
    with on_terminal(tmp_path) as terminal:
        terminal.wait_for("What is wrong?")
        terminal.wait_for("A wheel thumps")
        terminal.press("\x11")
        assert terminal.ended() == 0
        check_left_in_order(terminal.written)
    assert not walks_of(tmp_path).exists()


def test_a_walk_that_was_cut_off_is_taken_up_again(tmp_path: Path) -> None:
    """Even where nothing could be saved any more: every move was on the disk before its page was shown."""
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        terminal.press("1", "Is the old cell good under load?")
        terminal.process.kill()
        terminal.process.wait()
    [summary] = summaries(walks_of(tmp_path))
    assert [entry.move.kind for entry in read_journal(summary.path).entries][-1] == Kind.FINDING
    with on_terminal(tmp_path, "walk", "--resume", summary.id, "--as", "repairer", library=SAMPLE) as terminal:
        terminal.wait_for("Is this still so?")
        terminal.press("1", "all this is so")
        terminal.press("\r", "Is the old cell good under load?")
        terminal.press("\x11")
        assert terminal.ended() == 3


def test_a_held_key_on_a_real_terminal_answers_one_question(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        terminal.press("1", "Is the old cell good under load?")
        until = time.monotonic() + 1.5
        while time.monotonic() < until:
            os.write(terminal.end, b"1")
            terminal.read(0.03)
        time.sleep(SILENCE + 0.1)
        terminal.press("\x11")
        terminal.ended()
    [summary] = summaries(walks_of(tmp_path))
    kinds = [entry.move.kind for entry in read_journal(summary.path).entries]
    assert kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING, Kind.STOP]


def test_a_tap_works_through_the_terminals_own_codes(tmp_path: Path) -> None:
    """Press and release of the left button in the form of mode 1006 (xterm's control sequences, SGR coordinates)."""
    with on_terminal(tmp_path) as terminal:
        terminal.wait_for("A wheel thumps")
        terminal.press("\x1b[<0;5;4M\x1b[<0;5;4m", "Is a patient on the cot?")
        terminal.press("\x11")
        assert terminal.ended() == 0


# -- what cannot be, and what nobody expected


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("nosuch",), 2, '"nosuch"'),
        (("lamp-does-not-light", "--as", "pilot"), 2, 'error: "pilot" is no role here'),
        (("lamp-does-not-light", "--model", "Robin"), 2, 'error: "Robin" is no model of this tree'),
        (("--as", "pilot"), 2, 'error: "pilot" is no role here'),
        (("--resume", "LMP-1"), 2, "LMP-1"),
        (("--readback", "b"), 2, "error: "),
        (("--resume", "a", "--readback", "b"), 2, "error: "),
        (("\x1b[2Jx",), 2, '"\\x1b[2Jx"'),
    ],
)
def test_a_mistake_in_the_words_is_told_without_a_screen(
    tmp_path: Path, words: tuple[str, ...], code: int, said: str
) -> None:
    with on_terminal(tmp_path, "walk", *words, library=SAMPLE) as terminal:
        assert terminal.ended() == code
        told = " ".join(terminal.plain.split())
        assert told.startswith("error: ")
        assert said in told
        assert b"\x1b[?1049h" not in terminal.written
        assert b"\x1b[2J" not in terminal.written
        assert "Traceback" not in told
    assert not walks_of(tmp_path).exists()


UNEXPECTED = {
    "an answer": "from faulttree.tui.screens.walk import WalkScreen as S; S._acknowledge = broken",
    "what is done after it": "from faulttree.tui.session import Session as S; S.make = broken",
    "drawing": "from faulttree.tui.screens.walk import WalkScreen as S; S.rows = broken",
    "a row": "from faulttree.tui.widgets.paper import Paper as S; S.render_line = broken",
    "the first page": "from faulttree.tui.screens.find import FindScreen as S; S.read = broken",
    "beginning": "import faulttree.tui.beginnings as b; b.started = broken",
}
"""Where something is broken, and how."""


@pytest.mark.parametrize("where", UNEXPECTED)
def test_what_nobody_expected_is_told_in_a_sentence(tmp_path: Path, where: str) -> None:
    """The exit code and the sentence are those of every command (`faulttree.cli.failures`)."""
    program = begun_by("def broken(*given, **more): return 1 / 0", UNEXPECTED[where])
    with on_terminal(tmp_path, *LAMP_WALK, "--model", "Finch", library=SAMPLE, program=program) as terminal:
        if where in ("an answer", "what is done after it"):
            terminal.wait_for("all this is so")
            terminal.press("\r", "I have read")
            terminal.press("a")
        code = terminal.ended()
        check_left_in_order(terminal.written)
        last = last_of(terminal.written)
    assert code == 2
    assert "error: something went wrong inside faulttree (ZeroDivisionError)" in last
    assert "faulttree.log; send this file with your report" in last
    assert b"Traceback" not in terminal.written
    assert "ZeroDivisionError" in log_of(tmp_path).read_text(encoding="utf-8")
    if walks_of(tmp_path).exists() and summaries(walks_of(tmp_path)):
        assert kinds_in(tmp_path) == [Kind.BEGIN]
        assert "--resume" in last


# -- what cannot be recorded

FULL_DISK = begun_by(
    "import errno, os",
    "import faulttree.journal.disk as disk",
    "write = disk.write_all",
    "def full(file, data):",
    "    if os.path.exists('full'):",
    "        os.write(file, data[:40])",
    "        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))",
    "    write(file, data)",
    "disk.write_all = full",
)
"""The program on a disk that is full as long as a file of that name is in the folder where it was started."""


def test_on_a_full_disk_nothing_counts_until_it_is_recorded(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE, program=FULL_DISK) as terminal:
        begun_walk(terminal)
        (tmp_path / "full").touch()
        terminal.press("1", "NOT RECORDED")
        terminal.wait_for("the disk is full")
        assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]
        terminal.press("\r", "this time either")
        assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]
        (tmp_path / "full").unlink()
        terminal.press("\r", "Is the old cell good under load?")
        assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING]
        terminal.press("\x11")
        assert terminal.ended() == 3
        assert "NOT RECORDED" not in last_of(terminal.written)
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING, Kind.STOP]


def test_what_was_left_unrecorded_is_given_up_and_nothing_else_is_lost(tmp_path: Path) -> None:
    """A limit of the system on the size of files: a part of the line is written, and then no more."""
    resource = pytest.importorskip("resource")
    if not hasattr(resource, "prlimit"):
        pytest.skip("limits of another process cannot be set here")
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        size = recorded_in(tmp_path).path.stat().st_size
        resource.prlimit(terminal.process.pid, resource.RLIMIT_FSIZE, (size + 25, resource.RLIM_INFINITY))
        terminal.press("1", "NOT RECORDED")
        terminal.wait_for("may not grow any further")
        terminal.press("\x11")
        assert terminal.ended() == 3
        check_left_in_order(terminal.written)
        last = last_of(terminal.written)
    assert "THE LAST ANSWER IS NOT RECORDED and does not count." in last
    assert LAST in last
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE]


def test_a_disk_that_is_pulled_out_can_be_put_back_and_the_walk_saved_elsewhere(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE) as terminal:
        begun_walk(terminal)
        os.rename(tmp_path / "data", tmp_path / "pulled")
        terminal.press("1", "NOT RECORDED")
        terminal.press("p", "as which file")
        terminal.press("saved.jsonl\r", "was saved in")
        kept = read_journal(tmp_path / "saved.jsonl")
        assert [entry.move.kind for entry in kept.entries] == [Kind.BEGIN, Kind.ACKNOWLEDGE]
        os.rename(tmp_path / "pulled", tmp_path / "data")
        terminal.press("\r", "Is the old cell good under load?")
        terminal.press("\x11")
        assert terminal.ended() == 3
    assert kinds_in(tmp_path) == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING, Kind.STOP]


def read_only(tmp_path: Path) -> Path:
    """A folder in which nothing can be made: one without the right to write; for root one of the system's own."""
    folder = tmp_path / "data"
    folder.mkdir(mode=0o500)
    if not os.access(folder, os.W_OK):
        return folder
    if not Path("/proc/self").is_dir():
        pytest.skip("every folder can be written here")
    return Path("/proc/self")


def test_where_nothing_can_be_recorded_nothing_is_walked_but_what_to_do_at_once_is_shown(tmp_path: Path) -> None:
    folder = read_only(tmp_path)
    with on_terminal(tmp_path, *LAMP_WALK, "--model", "Finch", library=SAMPLE, XDG_DATA_HOME=str(folder)) as terminal:
        terminal.wait_for("Not recorded: cannot write")
        terminal.press("\r", "NOT RECORDED, so not walked")
        terminal.wait_for("Work with the spare lamp.")
        terminal.press("\r", "What is wrong?")
        terminal.press("\x11")
        assert terminal.ended() == 0
        check_left_in_order(terminal.written)
        assert b"Traceback" not in terminal.written
    assert not log_of(tmp_path).exists()
    assert not (folder / "faulttree").exists()


# -- without a real terminal


def piped(tmp_path: Path, *words: str, typed: bytes = b"", **more: str) -> subprocess.CompletedProcess[bytes]:
    environ = surroundings(tmp_path, FAULTTREE_LIBRARY=str(SAMPLE), **more)
    command = [sys.executable, "-m", "faulttree", *words]
    return subprocess.run(command, input=typed, capture_output=True, cwd=tmp_path, env=environ, timeout=60)


def test_with_a_pipe_it_goes_line_by_line_and_writes_no_escape(tmp_path: Path) -> None:
    ran = piped(tmp_path, *LAMP_WALK, typed=b"1\nacknowledge\nstop\n")
    assert b"\x1b" not in ran.stdout + ran.stderr
    assert b"Does the lamp light with a spare cell?" in ran.stdout
    assert LAST.encode() in ran.stdout.replace(b"\n   ", b" ")
    assert ran.returncode == 3


def test_without_a_word_in_a_pipe_no_screen_is_drawn(tmp_path: Path) -> None:
    ran = piped(tmp_path)
    assert b"\x1b" not in ran.stdout + ran.stderr
    assert b"Traceback" not in ran.stderr


@pytest.mark.parametrize("more", [{"TERM": "dumb"}, {"TERM": ""}, {"FAULTTREE_PLAIN": "1"}])
def test_a_terminal_that_cannot_move_its_cursor_gets_lines(tmp_path: Path, more: dict[str, str]) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE, **more) as terminal:
        terminal.wait_for("1 Finch, 2 Wren")
        terminal.press("1\n", "Enter for the next one")
        terminal.press("\n", "acknowledge")
        terminal.press("stop\n", "NOT APPROVED FOR RETURN TO SERVICE")
        assert terminal.ended() == 3
        assert b"\x1b" not in terminal.written


def test_plain_asks_for_lines_on_any_terminal(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, "--plain", library=SAMPLE) as terminal:
        terminal.wait_for("1 Finch, 2 Wren")
        assert b"\x1b[?1049h" not in terminal.written
        os.write(terminal.end, b"\x04")
        terminal.ended()


def test_without_colour_none_is_written(tmp_path: Path) -> None:
    """Of the codes for looks (SGR, ECMA-48) none for colours: 30 to 49, 90 to 107, and 38 and 48 with what follows."""
    with on_terminal(tmp_path, *LAMP_WALK, library=SAMPLE, NO_COLOR="1") as terminal:
        begun_walk(terminal)
        written = terminal.written
        # A line of text and the ground below it are drawn by the library of widgets; marked with shift and left.
        terminal.press("n", "no patient data")
        written += terminal.written
        terminal.press("red", "red")
        terminal.press("\x1b[1;2D")
        terminal.read(0.5)
        written += terminal.written
        terminal.press("\x11")
        terminal.ended()
    codes = {code for group in re.findall(rb"\x1b\[([0-9;]*)m", written) for code in group.split(b";") if code}
    assert codes <= {b"0", b"1", b"2", b"4", b"7", b"22", b"24", b"27"}, codes
    assert b"4" in codes, "otherwise nothing was marked"


@pytest.mark.parametrize(("words", "ground"), [((), b"0;0;0"), (("--day",), b"255;255;255")], ids=("night", "day"))
def test_the_first_thing_that_is_drawn_stands_on_the_ground_of_its_time(
    tmp_path: Path, words: tuple[str, ...], ground: bytes
) -> None:
    """By night nothing light is drawn before the first page, not for a moment: eyes need minutes to see again."""
    with on_terminal(tmp_path, *LAMP_WALK, *words, library=SAMPLE, COLORTERM="truecolor") as terminal:
        terminal.wait_for("Which one is it?")
        written = terminal.written
        terminal.press("\x11")
        terminal.ended()
    assert set(re.findall(rb"48;2;(\d+;\d+;\d+)", written)) == {ground}
    assert not re.search(rb"\x1b\[(?:[0-9;]*;)?(?:4[0-7]|10[0-7]|48;5;\d+)m", written)


def test_in_ascii_nothing_else_is_written(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, "--ascii", library=SAMPLE) as terminal:
        begun_walk(terminal)
        terminal.press("\x11")
        terminal.ended()
        assert terminal.written.isascii()


def test_calm_switches_no_mouse_on(tmp_path: Path) -> None:
    with on_terminal(tmp_path, *LAMP_WALK, "--calm", library=SAMPLE) as terminal:
        terminal.wait_for("Which one is it?")
        assert b"\x1b[?1000h" not in terminal.written
        terminal.press("\x11")
        assert terminal.ended() == 0
        check_left_in_order(terminal.written)
