"""Line mode at each of its prompts: the fallback is one word away, stop stops, and nothing that is typed is lost."""

from __future__ import annotations

import io
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Ran

from faulttree.cli.main import main
from faulttree.cli.signals import ENDING
from faulttree.journal import read_journal, summaries
from faulttree.journal.names import default_folder
from faulttree.keys import Kind

REL = "cot-will-not-release"
PATIENT_ON = f"{REL}\nyes"
Walked = Callable[..., Ran]


class Terminal(io.StringIO):
    """What a person types at a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def walk(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Walked:
    """Walk in line mode; ``typed`` has a line each, at a terminal or out of a pipe."""

    def walked(*words: str, typed: str, terminal: bool = True) -> Ran:
        monkeypatch.setattr(sys, "stdin", (Terminal if terminal else io.StringIO)(typed))
        code = main(["walk", "--plain", *words])
        return Ran(code, *capsys.readouterr())

    return walked


def kinds() -> list[Kind]:
    """The moves of the one walk that was recorded."""
    [summary] = summaries(default_folder(), include_ended=True)
    return [entry.move.kind for entry in read_journal(summary.path).entries]


def plain(text: str) -> str:
    return " ".join(text.split())


FALLBACK = "Fallback: when it cannot wait:"

PROMPTS = {
    "> ": "1\n",
    "Enter for the next one:": "1\npeople here\n",
    "Why (no patient data):": "1\nunable\n",
    "What (no patient data):": "1\nnote\n",
    "What else was found (no patient data):": "1\nalso found\n",
    "Your role?": "1\ntake over\n",
    "Is a patient on the cot?": "1\ntake over mechanic\n",
    "Which line worked?": "1\nfallback\n",
}
"""Each prompt of a walk that has a patient on from its beginning, and what is typed to come to it."""


@pytest.mark.parametrize("prompt", PROMPTS)
@pytest.mark.parametrize("word", ["fallback", " FALLBACK. "])
def test_the_fallback_is_one_word_away_at_every_prompt(walk: Walked, prompt: str, word: str) -> None:
    ran = walk(REL, typed=f"{PROMPTS[prompt]}{word}\n0\nstop\n")
    asked, _, after = ran.out.rpartition(FALLBACK)
    assert prompt in plain(asked) or prompt == "> "
    assert "Which line worked? 1 to 3, 0 for none:" in after
    assert ran.code == 3


@pytest.mark.parametrize("prompt", PROMPTS)
def test_the_fallback_is_recorded_from_every_prompt_and_is_no_answer_to_it(walk: Walked, prompt: str) -> None:
    walk(REL, typed=f"{PROMPTS[prompt]}fallback\n1\n2\nstop\n")
    first = [Kind.BEGIN, Kind.PEOPLE_HERE] if "people here" in PROMPTS[prompt] else [Kind.BEGIN]
    assert kinds() == [*first, Kind.FALLBACK, Kind.OCCUPANT_OFF, Kind.STOP]


@pytest.mark.parametrize("prompt", PROMPTS)
@pytest.mark.parametrize("typed", ["stop\n", ""])
def test_stop_and_the_end_of_the_input_leave_the_walk_at_every_prompt(walk: Walked, prompt: str, typed: str) -> None:
    ran = walk(REL, typed=PROMPTS[prompt] + typed)
    assert (ran.code, ran.err) == (3, "")
    assert "The walk is saved and unfinished." in ran.out
    assert "Go on with it by: faulttree walk --resume" in plain(ran.out)
    assert kinds()[-1] == Kind.STOP


@pytest.mark.parametrize("prompt", [each for each in PROMPTS if each != "> "])
def test_words_that_only_show_something_are_followed_by_the_same_question(walk: Walked, prompt: str) -> None:
    asked = plain(walk(REL, typed=PROMPTS[prompt]).out).count(prompt)
    ran = walk(REL, typed=f"{PROMPTS[prompt]}open\nhelp\nso far\ncode\nstop\n")
    assert plain(ran.out).count(prompt) == asked + 4
    assert "Nothing is recorded as open." in ran.out
    assert "fallback: what to do at once when it cannot wait" in ran.out
    assert "Read-back code:" in ran.out


def test_a_reason_may_still_begin_with_such_a_word(walk: Walked) -> None:
    walk(REL, typed="1\nunable\nstop valve is in the way\nstop\n", terminal=False)
    [summary] = summaries(default_folder())
    assert [entry.move.text for entry in read_journal(summary.path).entries][1] == "stop valve is in the way"


def test_between_warnings_words_and_moves_count_but_nothing_is_acknowledged_unread(walk: Walked) -> None:
    ran = walk(REL, typed="1\n1\nacknowledge\nnonsense\nback\nnote handle stiff\nunable no light\nstop\n")
    assert '"nonsense" is no answer here' in ran.out
    assert kinds() == [Kind.BEGIN, Kind.PEOPLE_HERE, Kind.NOTE, Kind.UNABLE, Kind.STOP]


@pytest.mark.parametrize("word", ["acknowledge", "a", "A", "1"])
def test_one_word_leads_from_warning_to_warning_and_acknowledges_after_the_last(walk: Walked, word: str) -> None:
    """It was refused between them, and asked for after the last."""
    count = plain(walk(REL, typed="1\n1\n" + "\n" * 30).out).count("for the next one:") + 1
    assert count > 2
    for typed in range(1, count + 1):
        ran = walk(REL, typed=f"1\n1\n{word}\n" + f"{word}\n" * (typed - 1) + "stop\n")
        latest = read_journal(max(default_folder().glob("*.jsonl"), key=lambda path: path.stat().st_mtime_ns))
        found = [entry.move.kind for entry in latest.entries]
        assert (Kind.ACKNOWLEDGE in found) == (typed == count), "recorded once all were shown"
        assert "no answer here" not in ran.out
    assert plain(ran.out).count('"acknowledge", or Enter for the next one:') == count - 1


def test_all_warnings_are_shown_before_they_are_acknowledged(walk: Walked) -> None:
    ran = walk(REL, typed="1\n1\n" + "\n" * 30)
    page = ran.out.rpartition("I have read all")[0].rpartition("Next:")[2]
    count = page.count("WARNING:") + page.count("CAUTION:")
    assert page.count("Enter for the next one:") == count - 1 > 0


def test_where_nobody_is_ever_on_it_the_word_says_that_there_is_no_fallback(walk: Walked, library: MakeLibrary) -> None:
    line = "  - {who: user, do: Work with the spare lamp.}\n"
    folder = library(line, "")
    text = (folder / f"{LAMP}.yaml").read_text()
    (folder / f"{LAMP}.yaml").write_text(re.sub("^fallback:.*\n", "", text, flags=re.MULTILINE))
    ran = walk(LAMP, "--library", str(folder), typed="fallback\nFinch\nfallback\n\nunable\nfallback\nno spare\nstop\n")
    assert ran.out.count("This tree has no fallback.") == 3
    assert kinds() == [Kind.BEGIN, Kind.UNABLE, Kind.STOP]


# -- before the walk, and taken up again


def test_before_a_walk_is_there_the_fallback_is_shown_and_asked_about_once_it_can_be_recorded(walk: Walked) -> None:
    ran = walk(REL, typed="fallback\n1\n1\n1\nhand over\n")
    shown, _, begun = ran.out.partition("It is recorded as you go.")
    assert FALLBACK in shown
    assert "Which line worked?" not in shown
    assert FALLBACK not in begun.partition("Which line worked?")[0]
    assert kinds() == [Kind.BEGIN, Kind.FALLBACK, Kind.OCCUPANT_ON, Kind.HAND_OVER]


def test_before_the_symptom_is_known_the_word_says_what_to_do(walk: Walked) -> None:
    ran = walk(typed="fallback\nopen\nhelp\nstop\n")
    assert "name the symptom first" in plain(ran.out)
    assert "operator's emergency procedure" in plain(ran.out)
    assert "stop: save and leave" in plain(ran.out)
    assert ran.code == 3
    assert summaries(default_folder()) == []


def test_whoever_takes_a_walk_up_again_has_the_words_too(walk: Walked) -> None:
    walk(REL, typed="1\nfallback\n2\n1\nstop\n", terminal=False)
    [waiting] = summaries(default_folder())
    ran = walk("--resume", waiting.id, typed="open\nfallback\nmechanic\n1\n1\n1\n0\nstop\n")
    assert ran.out.count("OPEN (duty): Tag on the mount.") > 2
    before, _, after = ran.out.partition("Role: mechanic.")
    assert FALLBACK in before
    assert "Which line worked?" in after or "Which line worked?" in before
    left = walk("--resume", waiting.id, typed="mechanic\nstop\n")
    assert left.code == 3
    assert "STILL OPEN (duty): Tag on the mount." in left.out
    assert kinds()[-3:] == [Kind.TAKE_OVER, Kind.FALLBACK, Kind.STOP], "what was stopped before it went on is no move"


# -- what stays open is said last


AT_THE_CELL = "Finch\n\nacknowledge\nLights\n"
STILL_OPEN = "STILL OPEN (disturbance): Cell lies outside the lamp."


@pytest.mark.parametrize(
    "rest",
    ["", "stop\n", "unable\n", "note\n", "take over\n", "take over repairer\n", "1.099 V\n", "reading 1.099 V\n"],
)
def test_wherever_a_walk_is_left_what_is_open_is_said_last(walk: Walked, rest: str) -> None:
    ran = walk(LAMP, "--library", str(SAMPLE), "--as", "repairer", typed=AT_THE_CELL + rest)
    assert ran.code == 3
    assert STILL_OPEN in ran.out.rpartition(">")[2]


def test_the_end_of_the_input_after_a_fallback_line_that_worked_says_what_is_open(walk: Walked) -> None:
    ran = walk(REL, typed="1\nfallback\n2\n", terminal=False)
    assert ran.code == 3
    assert "STILL OPEN (hazard): The lock is open." in ran.out.rpartition("Is a patient on the cot?")[2]
    assert kinds() == [Kind.BEGIN, Kind.FALLBACK, Kind.STOP]


def test_an_answers_file_that_goes_wrong_leaves_with_what_is_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "answers").write_text(f"{AT_THE_CELL}nonsense\n")
    words = ("--library", str(SAMPLE), "--as", "repairer", "--answers", str(tmp_path / "answers"))
    assert main(["walk", LAMP, *words]) == 2
    assert STILL_OPEN in capsys.readouterr().out


def test_at_the_end_of_a_walk_nothing_is_unfinished(walk: Walked) -> None:
    ran = walk(LAMP, "--library", str(SAMPLE), "--as", "repairer", typed=f"{AT_THE_CELL}1 V\n\n1\n1\nnote\nstop\n")
    assert ran.code == 0
    assert "FAULT CORRECTED" in ran.out
    assert "unfinished" not in ran.out


# -- signals


def ignoring(number: int) -> Callable[[], Any]:
    """Before the program starts: the signal is ignored, as `nohup` and some shells have it."""
    return lambda: signal.signal(number, signal.SIG_IGN)


@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
@pytest.mark.parametrize("is_ignored", [False, True])
@pytest.mark.parametrize("rest", ["", "unable\n"])
def test_a_request_to_end_and_a_cut_line_say_what_stays_open(
    tmp_path: Path, number: signal.Signals, is_ignored: bool, rest: str
) -> None:
    command = [sys.executable, "-m", "faulttree", "walk", LAMP, "--library", str(SAMPLE)]
    pipes: dict[str, Any] = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    before = ignoring(number) if is_ignored else None
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path)}
    with subprocess.Popen(command, text=True, env=env, preexec_fn=before, **pipes) as child:
        assert child.stdin is not None
        child.stdin.write(f"Finch\nacknowledge\n{rest}")
        child.stdin.flush()
        wait_for(tmp_path, 2)
        time.sleep(0.5)  # until it waits for the next answer
        child.send_signal(number)
        out, err = child.communicate(timeout=20)
    assert child.returncode == 3
    assert STILL_OPEN in out
    assert "The walk is saved and unfinished. NOT APPROVED FOR RETURN TO SERVICE." in out
    assert "Go on with it by: faulttree walk --resume" in out
    assert err == ""
    [path] = tmp_path.rglob("*.jsonl")
    recorded = read_journal(path)
    assert not recorded.torn
    assert [entry.move.kind for entry in recorded.entries] == [Kind.BEGIN, Kind.ACKNOWLEDGE]


def wait_for(folder: Path, moves: int) -> None:
    """Until the journal below ``folder`` has that many moves."""
    until = time.monotonic() + 20
    while time.monotonic() < until:
        if any(len(read_journal(path).entries) >= moves for path in folder.rglob("*.jsonl")):
            return
        time.sleep(0.02)
    pytest.fail("the walk was not recorded")


@pytest.fixture
def ctrl_c_is_heeded() -> Iterator[None]:
    """As at a terminal: what a shell starts in the background passes that signal by."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("ctrl_c_is_heeded")
@pytest.mark.parametrize("number", [*ENDING, signal.SIGINT], ids=lambda number: number.name)
def test_a_signal_while_a_move_is_recorded_waits_until_it_counts(
    walk: Walked, monkeypatch: pytest.MonkeyPatch, number: signal.Signals
) -> None:
    from faulttree.journal import disk

    written = disk.write_all

    def interrupted(file: Any, data: bytes) -> None:
        half = len(data) // 2
        written(file, data[:half])
        if b'"finding"' in data:
            os.kill(os.getpid(), number)
        written(file, data[half:])

    monkeypatch.setattr(disk, "write_all", interrupted)
    before = signal.getsignal(number)
    ran = walk(LAMP, "--library", str(SAMPLE), typed=f"{AT_THE_CELL}stop\n")
    assert ran.code == (130 if number == signal.SIGINT else 3)
    assert kinds() == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING], "the move is whole and nothing came after it"
    assert STILL_OPEN in ran.out
    assert signal.getsignal(number) == before, "what was set before is set again"


def test_a_terminal_that_went_away_is_no_error(tmp_path: Path) -> None:
    """The line is cut: what is said last reaches nobody, and the record is whole."""
    import fcntl
    import pty
    import termios

    master, slave = pty.openpty()
    command = [sys.executable, "-m", "faulttree", "walk", LAMP, "--plain", "--library", str(SAMPLE)]
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path)}
    pipes: dict[str, Any] = {"stdin": slave, "stdout": slave, "stderr": subprocess.PIPE}
    pipes["preexec_fn"] = lambda: fcntl.ioctl(0, termios.TIOCSCTTY)
    with subprocess.Popen(command, env=env, start_new_session=True, **pipes) as child:
        os.close(slave)
        os.write(master, b"Finch\n\nacknowledge\n")
        wait_for(tmp_path, 2)
        time.sleep(0.5)
        os.close(master)
        _, err = child.communicate(timeout=20)
    assert child.returncode == 3
    assert err == b""
    [path] = tmp_path.rglob("*.jsonl")
    assert not read_journal(path).torn
