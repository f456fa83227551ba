"""``faulttree walk`` in line mode: whole walks by scripted answers, and what happens when something goes wrong."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from faulttree.cli.main import main
from faulttree.journal import read_journal, summaries

SAMPLE = str(Path(__file__).parent.parent / "sample")


@pytest.fixture(autouse=True)
def own_data_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path / "data" / "faulttree" / "walks"


@pytest.fixture
def walk(tmp_path, capsys, monkeypatch):
    """Walk with these answers, one a line; returns the exit code and what was printed on each stream."""

    def run(*words: str, answers: str = "", typed: str | None = None):
        if typed is None:
            script = tmp_path / "answers.txt"
            script.write_text(answers, encoding="utf-8")
            words = (*words, "--answers", str(script))
        else:
            monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        code = main(["walk", *words])
        out, err = capsys.readouterr()
        return code, out, err

    return run


LAMP = ("lamp-does-not-light", "--library", SAMPLE)
NEW_CELL = """\
Finch
acknowledge
Lights
# the mechanic of the shop goes on
1.0 V
done
passed
"""


def test_from_symptom_to_a_corrective_action_that_passed(walk, own_data_folder) -> None:
    code, out, err = walk(*LAMP, "--as", "repairer", answers=NEW_CELL)
    assert (code, err) == (0, "")
    assert "FAULT CORRECTED. NOT YET APPROVED FOR RETURN TO SERVICE." in out
    assert "FOUND: Cell voltage under load 1.0 V." in out
    assert "DID: New cell fitted." in out
    assert "PROVED: answered as passed, 1 of 1: " in out
    assert "WORDS, where it was so: Lights ___ (INCOMPLETE) of 10." in out
    assert "REF: LAMP-01 revision B, section 2." in out
    assert summaries(own_data_folder) == []
    [ended] = summaries(own_data_folder, include_ended=True)
    assert ended.last.passed


def test_warnings_stand_before_the_step_and_once_in_full(walk) -> None:
    _, out, _ = walk(*LAMP, answers=NEW_CELL)
    full = out.index("WARNING: The lens gets hot in use.")
    assert full < out.index("Take the cell out.")
    assert out.count("Result: It burns fingers.") == 1
    assert "WARNING, read before: The lens gets hot in use." in out


def test_where_the_step_is_for_another_role_it_is_handed_over_and_resumed(walk, own_data_folder) -> None:
    code, out, _ = walk(*LAMP, answers="Finch\nacknowledge\nLights\nhand over\n")
    assert code == 0
    assert "HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE." in out
    assert "OPEN (disturbance): Cell lies outside the lamp." in out
    assert "REPORT: Lamp no. ___ (INCOMPLETE) did not light" in out
    assert "Not in the code: fallback lines, notes, readings, names, times, waits." in out
    [waiting] = summaries(own_data_folder)
    _, listed, _ = walk("--resume", answers="")
    assert f"{waiting.id}: The lamp does not light, handed over to: repairer, 20" in " ".join(listed.split())
    code, out, _ = walk("--resume", waiting.id, "--as", "repairer", answers="yes\n1.0 V\nacknowledge\ndone\npassed\n")
    assert code == 0
    assert "Is this still so?" in out
    assert "FAULT CORRECTED" in out


def test_a_code_goes_on_where_it_was_made(walk) -> None:
    _, out, _ = walk(*LAMP, answers="Finch\nacknowledge\nStays dark\nhand over repairer\n")
    assert "Handed over to: repairer.\nThe step is for: user." in out
    code = next(line for line in out.splitlines() if "Read-back code" in line).partition(": ")[2]
    words = ("--readback", code, "--library", SAMPLE)
    status, out, _ = walk(*words, answers="yes\nyes\nClicks\nstop\n")
    assert status == 3
    assert "1. Does the lamp light with a spare cell? Stays dark." in out
    assert out.index("Not in the code: fallback lines, notes, readings, names, times, waits.") < out.index(
        "Is it right?"
    )
    status, _, err = walk(*words, answers="no\n")
    assert status == 2
    assert "not confirmed" in err
    status, _, err = walk("--readback", code[:-1] + ("A" if code[-1] != "A" else "B"), "--library", SAMPLE, answers="")
    assert status == 2
    assert "check characters do not fit" in err


def test_a_bare_number_at_a_measured_check_is_refused(walk) -> None:
    code, out, _ = walk(*LAMP, "--as", "repairer", typed="Finch\nacknowledge\nLights\n1\nfinding 1\nstop\n")
    assert 'Type "1 V" for the reading, or "Flat" for answer 1' in " ".join(out.split())
    assert code == 3
    assert "Fit a new cell" in out


def test_readings_are_converted_and_bounded(walk) -> None:
    code, out, _ = walk(*LAMP, "--as", "repairer", typed="Finch\nacknowledge\n1\n9 V\n1200 mm\n1200 mV\nstop\n")
    assert "lies between 0 and 2 V" in " ".join(out.split())
    assert "mm" in out
    assert "Are the contacts clean?" in out, "1.2 V is good"
    assert code == 3


def test_end_of_input_leaves_the_walk_saved(walk, own_data_folder) -> None:
    code, out, _ = walk(*LAMP, typed="Finch\nacknowledge\n")
    assert code == 3
    assert "STILL OPEN (disturbance)" in out
    [waiting] = summaries(own_data_folder)
    assert waiting.last.state == "stopped"
    code, out, _ = walk("--resume", typed="")
    assert code == 0
    assert waiting.id in out


def test_an_answer_that_does_not_fit_is_asked_for_again_or_names_its_line(walk) -> None:
    code, out, _ = walk(*LAMP, typed="Finch\nacknowlege\nacknowledge\nStays drak\nstop\n")
    assert code == 3
    assert 'Did you mean "acknowledge"?' in out
    assert 'Did you mean "stays dark"?' in out
    code, _, err = walk(*LAMP, answers="Finch\n\n# a comment\nacknowledge\nnonsense\n")
    assert code == 2
    assert 'answers.txt:5: "nonsense" is no answer here' in " ".join(err.split())


def test_back_unable_note_and_what_the_log_keeps(walk, own_data_folder) -> None:
    answers = """\
Finch
acknowledge
Stays dark
back
unable no spare cell
note the charger light was off
also found: strap missing
so far
open
code
help
hand over
"""
    code, out, _ = walk(*LAMP, answers=answers.replace("back\n", "back\nacknowledge\n"))
    assert code == 0
    assert "1. Does the lamp light with a spare cell? unable (no spare cell)." in out
    asked, page = out.split("Also in the log, no findings of this way:")[1:]
    for aside in (asked, page):
        words = " ".join(aside.split())
        assert 'Gone back over: "Does the lamp light with a spare cell?" was answered: Stays dark.' in words
        assert '": the charger light was off.' in words
        assert '": strap missing.' in words


def test_where_no_cause_fits_the_answer_to_look_at_first_is_named_with_what_to_type(walk) -> None:
    answers = "2\npeople here\nacknowledge\nRound and clean\npeople here\nWhole\npeople here\nacknowledge\nSmooth\n"
    go_back = "people here\nback 1\nstop\n"
    code, out, _ = walk("wheel-thumps", "--as", "mechanic", "--model", "Alder", answers=answers + go_back)
    assert code == 3
    flat = " ".join(out.split())
    first = "Look again first at line 1: What does the tread look like all the way round? Round and clean. Without it "
    assert f"No listed cause fits all that was found. {first}" in flat
    said = flat.index("To look there again, type: back 1")
    assert "What does the tread look like all the way round? " in flat[flat.index("> back 1", said) :]


def test_practice_is_marked_and_kept_apart(walk, own_data_folder) -> None:
    code, out, _ = walk(*LAMP, "--practice", answers="Finch\nacknowledge\nLights\nhand over\n")
    assert code == 0
    screens = out.count("Revision 2, DRAFT")
    assert out.count("PRACTICE. Revision 2, DRAFT") == screens > 2
    assert "PRACTICE. HAND-OVER" in out
    assert summaries(own_data_folder) == []
    assert len(summaries(own_data_folder.parent / "practice")) == 1


def test_with_an_occupant_the_patient_comes_first(walk) -> None:
    code, out, _ = walk("cot-will-not-release", answers="yes\npeople here\nfallback\n0\nstop\n")
    assert code == 3
    first = out.index("Patient first.")
    assert first < out.index("Cot will not release from the mount.")
    for hidden in ("SKM-", "minutes", "Tools that may be needed", "likely"):
        assert hidden not in out


def test_a_fallback_line_that_worked_is_recorded_and_asks_for_the_occupant_anew(walk) -> None:
    code, out, _ = walk("cot-will-not-release", typed="1\nfallback\n1\n\nhand over\n")
    assert code == 0
    assert out.count("Is a patient on the cot? 1 yes, 2 no") == 2
    assert "Not answered, so taken as yes." in out
    assert "Let go of the handle." not in out.rpartition("HAND-OVER")[2], "things stand otherwise by now"
    assert "fallback line" in out


def test_the_start_page_of_a_mechanic_lists_what_may_be_needed(walk) -> None:
    _, out, _ = walk("cot-will-not-release", "--as", "mechanic", answers="no\nstop\n")
    for title in ("Tools", "Parts", "Consumables", "Documents", "People"):
        assert f"{title} that may be needed" in out
    assert "SKM-0430 Release cable assembly" in " ".join(out.split())


def test_symptom_by_words_and_by_number(walk) -> None:
    _, out, _ = walk(typed="stuck in the aircraft\n1\nstop\n")
    assert "Cot will not release from the mount." in out
    _, out, _ = walk(typed="3\n1\nAlder\nstop\n")
    assert "A wheel thumps" in out


def test_a_tree_with_a_problem_is_not_walked(walk, tmp_path) -> None:
    import shutil

    shutil.copytree(SAMPLE, tmp_path / "broken")
    tree = tmp_path / "broken" / "lamp-does-not-light.yaml"
    tree.write_text(tree.read_text().replace("Lights: volts", "Lights: out-of-use", 1))
    code, _, err = walk("lamp-does-not-light", "--library", str(tmp_path / "broken"), answers="")
    assert code == 1
    assert "has problems and is not walked" in err


def test_a_tree_that_changed_since_its_release_is_walked_as_a_draft(walk, tmp_path) -> None:
    import shutil

    shutil.copytree(SAMPLE, tmp_path / "changed")
    tree = tmp_path / "changed" / "lamp-does-not-light.yaml"
    released = f"status: released\nreleased: {{by: B. Tarn, date: 2026-11-21, digest: {'0' * 64}}}\nauthor: A. Fell"
    tree.write_text(tree.read_text().replace("status: draft", released, 1))
    code, out, err = walk(
        "lamp-does-not-light", "--library", str(tmp_path / "changed"), "--model", "Finch", answers="stop\n"
    )
    assert code == 3, err
    assert "DRAFT, CHANGED SINCE ITS RELEASE" in out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["no-such-tree"], "there is no tree"),
        (["lamp-does-not-light", "--library", SAMPLE, "--as", "boss"], "choose one of: user, repairer"),
        (["lamp-does-not-light", "--library", SAMPLE, "--model", "Lark"], "choose one of: Finch, Wren"),
        (["--resume", "XYZ-0101-AA"], "there is no walk"),
        (["cot-will-not-release", "--resume", "A"], "do not go together"),
        (["cot-will-not-release", "--answers", "/no/such/file"], "cannot be read"),
        (["--readback", "ABCD"], "no read-back code"),
    ],
)
def test_wrong_words_get_a_sentence(words, says, capsys, own_data_folder) -> None:
    own_data_folder.mkdir(parents=True)
    assert main(["walk", *words]) == 2
    err = capsys.readouterr().err
    assert says in " ".join(err.split())


def test_a_journal_that_cannot_be_written_stops_the_walk_before_the_next_question(walk, monkeypatch) -> None:
    from faulttree.journal import disk

    written = disk.write_all
    calls = []

    def full(file, data):
        calls.append(data)
        if b'"finding"' in data:
            raise OSError(28, "No space left on device")
        return written(file, data)

    monkeypatch.setattr(disk, "write_all", full)
    code, out, _ = walk(*LAMP, typed="Finch\nacknowledge\nLights\n\nleave\n")
    assert "NOT RECORDED" in out
    assert out.count("NOT RECORDED:") == 2, "Enter tries again"
    assert "THE LAST ANSWER IS NOT RECORDED and does not count." in out
    assert "STILL OPEN (disturbance): Cell lies outside the lamp." in out
    assert "Is the old cell good under load?" not in out
    assert code == 2


def test_control_characters_that_are_typed_never_reach_the_terminal(walk) -> None:
    _, out, _ = walk(*LAMP, typed="Finch\nnote \x1b[2J\x07 gone\nacknowledge\nLights\nhand over\n")
    assert "\x1b" not in out
    assert "characters that cannot be recorded" in out


@pytest.mark.parametrize("word", ["note", "also found", "unable"])
def test_control_characters_are_not_recorded_where_a_text_is_asked_for_either(walk, own_data_folder, word: str) -> None:
    """The text of a note, of another defect, or a reason: it is refused as a line is, and may be typed again."""
    typed = f"Finch\nacknowledge\n{word}\nred \x1b[31m \u202e\n{word}\nplain red\nhand over repairer\n"
    _, out, _ = walk(*LAMP, typed=typed)
    assert "\x1b" not in out
    assert "characters that cannot be recorded" in out
    [summary] = summaries(own_data_folder)
    texts = [entry.move.text for entry in read_journal(summary.path).entries if entry.move.text]
    assert texts == ["plain red"]


def test_ctrl_c_says_what_stays_open(tmp_path) -> None:
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path)}
    command = [sys.executable, "-m", "faulttree", "walk", *LAMP]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    with subprocess.Popen(command, text=True, env=env, preexec_fn=heed_ctrl_c, **pipes) as child:
        child.stdin.write("Finch\nacknowledge\n")
        child.stdin.flush()
        wait_for(tmp_path, 2)
        time.sleep(0.5)  # until the next question is shown: before that the move is on the disk, but not yet made
        child.send_signal(signal.SIGINT)
        out, _ = child.communicate(timeout=20)
    assert child.returncode == 130
    assert "STILL OPEN (disturbance)" in out


def heed_ctrl_c() -> None:
    """As at a terminal: what a shell starts in the background would pass the signal by, and so would its children."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


def wait_for(folder: Path, moves: int) -> None:
    """Until the journal below ``folder`` has that many moves."""
    until = time.monotonic() + 20
    while time.monotonic() < until:
        for path in folder.rglob("*.jsonl"):
            if len(read_journal(path).entries) >= moves:
                return
        time.sleep(0.02)
    pytest.fail("the walk was not recorded")


def test_every_line_of_the_journal_is_whole_json(walk, own_data_folder) -> None:
    walk(*LAMP, "--aircraft", "G-TEST", "--item", "cot 4", "--base", "A", answers=NEW_CELL)
    [path] = own_data_folder.glob("*.jsonl")
    lines = [json.loads(line) for line in path.read_text().splitlines()]
    assert [line["n"] for line in lines] == list(range(len(lines)))
    assert lines[0]["aircraft"] == "G-TEST"
    assert lines[1]["move"]["kind"] == "begin"


def test_after_going_back_at_the_end_the_step_is_shown_before_it_is_answered(walk) -> None:
    typed = "Finch\nacknowledge\nStays dark\nNo click\nunable no key\nback\nunable still no key\n\n"
    code, out, _ = walk(*LAMP, "--as", "repairer", typed=typed)
    assert code == 0
    before_end, _, after = out.partition("OUT OF SERVICE.")
    assert "Does the lamp light with the switch bridged?" in after.partition("Back, note, also found")[2]
    assert "switch bridged?" in before_end


def test_a_refused_line_does_not_push_its_message_off_the_screen(walk) -> None:
    _, out, _ = walk(*LAMP, typed="Finch\nacknowledge\nnonsense\nopen\nStays dark\n")
    assert out.count("Fit the spare cell. Switch on.") == 1


def test_a_reading_is_said_back_in_the_unit_of_the_limit(walk) -> None:
    _, out, _ = walk(*LAMP, "--as", "repairer", typed="Finch\nacknowledge\nLights\n1050 mV\n")
    assert "1050 mV = 1.05 V: Flat." in out


def test_who_takes_over_sees_what_must_be_so_first(walk) -> None:
    _, out, _ = walk(*LAMP, typed="Finch\nacknowledge\nLights\ntake over repairer\nyes\nstop\n")
    assert out.count("The lamp is out of the charger.") == 2
    assert "Tools that may be needed" in out.rpartition("Before anything is touched")[2]


def test_a_withdrawn_tree_is_not_walked_and_a_changed_one_says_so(walk, tmp_path, own_data_folder) -> None:
    import shutil

    folder = tmp_path / "own"
    shutil.copytree(SAMPLE, folder)
    tree = folder / "lamp-does-not-light.yaml"
    where = ("--library", str(folder))
    walk("lamp-does-not-light", *where, answers="Finch\nacknowledge\nLights\nhand over\n")
    [waiting] = summaries(own_data_folder)
    tree.write_text(tree.read_text().replace("Moves without any click", "Moves with no click"))
    _, out, _ = walk("--resume", waiting.id, *where, "--as", "user", answers="yes\nstop\n")
    assert "What changed in meaning since this walk was left" in " ".join(out.split())
    tree.write_text(tree.read_text().replace("status: draft", "status: withdrawn"))
    _, out, _ = walk("--resume", waiting.id, *where, "--as", "user", answers="yes\nstop\n")
    assert "THIS TREE HAS BEEN WITHDRAWN" in out
    code, _, err = walk("lamp-does-not-light", *where, answers="")
    assert code == 1
    assert "withdrawn" in err


def test_the_end_of_the_input_at_any_question_is_no_crash(walk) -> None:
    for typed in ("", "Finch\n", "Finch\nacknowledge\nunable\n"):
        code, _, err = walk(*LAMP, typed=typed)
        assert code == 3
        assert "wrong inside" not in err


def test_a_walk_that_ended_with_something_open_stays_in_the_list(walk) -> None:
    walk(*LAMP, "--as", "repairer", typed="Finch\nacknowledge\nStays dark\nNo click\nunable no key\n\n")
    _, out, _ = walk("--resume", typed="")
    assert "ended" in out
    assert "OPEN: cell out." in " ".join(out.split())
    walk(*LAMP, "--as", "repairer", answers=NEW_CELL)
    _, out, _ = walk("--resume", typed="")
    assert out.count("LMP-") == 1, "a passed walk that left nothing open is not listed"


def test_in_practice_every_prompt_says_so(walk) -> None:
    """Also those that stand below a long page, and those before a walk is begun."""
    typed = "1\nFinch\nacknowledge\nfallback\n0\nunable\nno light\nalso found\na crack\nopen\nhand over user\n"
    _, out, _ = walk("--practice", "--library", SAMPLE, typed=typed)
    asked = ("Number, or", "Which one is it?", "Which line worked?", "Why (no patient data):", "What else was found")
    for prompt in (*asked, ">"):
        assert f"\nPRACTICE. {prompt}" in f"\n{out}", out
    said = [line for line in out.splitlines() if line.startswith("PRACTICE. >")]
    assert len(said) >= 6
    _, out, _ = walk(
        "--resume", next(word for word in out.split() if word.startswith("PRACTICE-")).rstrip("."), typed=""
    )
    assert "PRACTICE. Your role?" in out
    _, out, _ = walk("--library", SAMPLE, typed=typed)
    assert "PRACTICE" not in out
