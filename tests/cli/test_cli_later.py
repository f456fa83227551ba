"""Line mode: what is asked while a walk is taken up, what is closed after the end, and a walk that is given up."""

from __future__ import annotations

import io
import shutil
import sys
from pathlib import Path

import pytest

from faulttree.cli.main import main
from faulttree.journal import read_journal, summaries
from faulttree.keys import Kind
from faulttree.library import shipped_library

REL = ("cot-will-not-release", "--library", str(shipped_library()))
HELD = "2\nfallback\n2\n2\n"
"""Nobody on it; the second line of the fallback worked: the lock is open, and the mount has a tag."""


@pytest.fixture(autouse=True)
def walks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path / "data" / "faulttree" / "walks"


@pytest.fixture
def typed(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch):
    """Runs ``faulttree walk`` with these lines typed; gives the exit code, what was printed in one line, and errors."""

    def run(lines: str, *words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "stdin", io.StringIO(lines))
        code = main(["walk", "--plain", *words])
        out, err = capsys.readouterr()
        return code, " ".join(out.split()), " ".join(err.split())

    return run


def left(typed, walks: Path) -> str:
    """A walk that was left with a hazard and a duty open; its id."""
    code, out, _ = typed(f"{HELD}stop\n", *REL)
    assert code == 3
    assert "STILL OPEN (hazard)" in out
    [each] = summaries(walks)
    return each.id


def test_the_patient_and_what_is_open_stand_before_the_questions_of_who_takes_up(typed, walks) -> None:
    walk_id = left(typed, walks)
    code, out, _ = typed("fallback\n2\n1\nfallback\n1\n1\nstop\n", "--resume", walk_id)
    assert code == 3
    asked = [
        out.index("Your role?"),
        out.index("Is a patient on the cot? 1 yes"),
        out.index("HAZARD: The lock is open"),
    ]
    assert asked == sorted(asked)
    for before in (asked[0], asked[2]):
        shown = out[out.rindex("Cot will not release from the mount.", 0, before) : before]
        for words in ("Patient first.", "OPEN (hazard): The lock is open.", "It cannot wait? Type: fallback"):
            assert words in shown, words
    assert "Patient first." in out[asked[1] : asked[2]], "said again once somebody is on it"
    assert out.count("Fallback: when it cannot wait:") == 2
    [each] = summaries(walks)
    assert read_journal(each.path).entries[-2].move.kind == Kind.TAKE_OVER


def test_who_goes_on_from_a_code_has_the_fallback_one_word_away(typed, walks) -> None:
    typed("2\nhand over\n", *REL)
    [each] = summaries(walks)
    _, out, _ = typed("1\n2\n\n\ncode\nstop\n", "--resume", each.id)
    code = out.partition("Read-back code: ")[2].split()[0]
    _, out, _ = typed("fallback\nyes\n1\nstop\n", "--readback", code, *REL[1:])
    assert out.index("Fallback: when it cannot wait:") < out.index("Is a patient on the cot?")
    assert out.index("Patient first.") < out.index("Read this back")


def test_given_up_only_once_the_hazard_is_recorded_as_closed(typed, walks) -> None:
    walk_id = left(typed, walks)
    code, out, _ = typed("2\n2\n1\n1\ngive up\nstop\n", "--resume", walk_id)
    assert code == 3
    assert "It cannot be given up while this is open (hazard: The lock is open." in out
    code, out, _ = typed("2\n2\n2\n1\ngive up wrong cot\n", "--resume", walk_id)
    assert code == 0
    assert "The walk was given up (wrong cot). NOT APPROVED FOR RETURN TO SERVICE." in out
    assert "STILL OPEN (duty): Tag on the mount." in out
    assert "Go on with it by" not in out
    assert summaries(walks) == []
    _, out, _ = typed("", "--resume")
    assert "1 ended walk with something open:" in out
    assert "given up" in out


def test_a_duty_is_closed_at_take_over_only_with_the_name_of_who_dealt_with_it(typed, walks) -> None:
    walk_id = left(typed, walks)
    code, out, _ = typed("2\n2\n1\n2\n\n1\nstop\n", "--resume", walk_id)
    assert code == 3
    assert out.count("DUTY: Tag on the mount. It is out of use until a mechanic approves it. Is this still so?") == 2
    assert "Without a name it stays open. It is asked again." in out
    assert out.count("STILL OPEN (duty): Tag on the mount.") == 1
    code, out, _ = typed("2\n2\n2\n2\nA. B.\nstop\n", "--resume", walk_id)
    assert code == 3
    assert out.count("Name or initials of who closed it") == 1, "not of the hazard, which crew may put right"
    assert "STILL OPEN" not in out
    [each] = summaries(walks)
    move = read_journal(each.path).entries[-2].move
    assert (move.closed, move.closed_by) == (("lock-open", "mount-out-of-use"), ("", "A. B."))


def test_where_the_name_is_not_given_nothing_is_taken_over(typed, walks) -> None:
    walk_id = left(typed, walks)
    code, _, _ = typed("2\n2\n1\n2\n", "--resume", walk_id)
    assert code == 3
    [each] = summaries(walks)
    assert each.last.move.kind == Kind.STOP
    assert each.last.open_items == ("lock-open", "mount-out-of-use")


def test_crew_are_not_asked_about_what_a_mechanic_took_apart_and_are_told_so(typed, walks) -> None:
    apart = (
        "2\npeople here\nacknowledge\nFree but heavy\npeople here\nacknowledge\nunable no scale\nunable no gauge\n\n"
    )
    code, out, _ = typed(apart, *REL, "--as", "mechanic")
    assert (code, "OPEN (disturbance): The aft cover of the mount is off." in out) == (0, True)
    [each] = summaries(walks, include_ended=True)
    code, out, _ = typed("1\n1\n", "--resume", each.id)
    assert "HAZARD: The lock is open." in out, "that is what crew see and deal with themselves"
    assert "The aft cover of the mount is off. Is this still so?" not in out
    assert "2 disturbances are for somebody else to close: mechanic." in out


def test_why_it_is_given_up_is_asked_for(typed, walks) -> None:
    code, out, _ = typed("2\ngive up\n\ngive up\nspare cot taken\n", *REL)
    assert code == 0
    assert '"given up" needs a text' in out
    [each] = summaries(walks, include_ended=True)
    assert (each.last.move.kind, each.last.move.text) == (Kind.STOP, "spare cot taken")
    _, out, _ = typed("", "--resume")
    assert out == "No walk waits.", "nothing of it is open"
    code, _, err = typed("", "--resume", each.id)
    assert code == 2
    assert "was given up (spare cot taken), and nothing of it is open" in err


def ended(typed, walks: Path) -> str:
    """A walk that ended with a duty open; its id."""
    walk_id = left(typed, walks)
    typed("2\n2\n2\n1\ngive up wrong cot\n", "--resume", walk_id)
    return walk_id


def test_a_duty_is_closed_after_the_end_by_whom_it_is_for(typed, walks) -> None:
    walk_id = ended(typed, walks)
    code, out, _ = typed("1\n", "--resume", walk_id)
    assert code == 0
    assert "Is this still so?" not in out
    assert "1 duty is for somebody else to close: mechanic or inspector or engineering." in out
    code, out, _ = typed("2\n1\n", "--resume", walk_id)
    assert (code, "OPEN (duty)" in out.rpartition("still so?")[2]) == (0, True)
    [before] = summaries(walks, include_ended=True)
    code, out, _ = typed("2\n\nA. B.\n", "--resume", walk_id, "--as", "mechanic")
    assert code == 0
    assert "who closed it was not said" in out.casefold()
    assert "Nothing of this walk is open any more." in out
    [after] = summaries(walks, include_ended=True)
    assert (after.moves, after.last.move.item, after.last.move.text) == (before.moves + 1, "mount-out-of-use", "A. B.")
    _, out, _ = typed("", "--resume")
    assert out == "No walk waits."


def test_where_a_walk_begins_those_that_are_over_take_one_line(typed, walks) -> None:
    for _ in range(3):
        ended_one = left(typed, walks)
        typed("2\n2\n2\n1\ngive up wrong cot\n", "--resume", ended_one)
    _, out, _ = typed("", *REL[1:])
    assert out.startswith('3 ended walks with something open: "faulttree walk --resume" lists them. What is wrong?')
    _, out, _ = typed("", "--resume")
    assert out.count("REL-") == 3


def test_at_its_end_what_is_closed_is_said_at_once(typed, walks) -> None:
    lamp = ("lamp-does-not-light", "--library", str(Path(__file__).parents[1] / "sample"))
    typed_in = "Finch\nacknowledge\nStays dark\nNo click\nunable no key\nclosed\n1\n2\nAB\n\n"
    code, out, _ = typed(typed_in, *lamp, "--as", "repairer")
    assert code == 0
    assert "Back, note, also found, closed, fill in, or Enter to leave:" in out
    [each] = summaries(walks, include_ended=True)
    assert (each.last.move.kind, each.last.open_items, each.last.ended) == (Kind.CLOSED, (), True)
    assert 'Closed: "Cell lies outside the lamp" (user: AB)' in out.rpartition("OUT OF SERVICE.")[2]


# -- which of many walks stands where it is seen

THUMPS = ("wheel-thumps", "--library", str(shipped_library()))


def three_left(typed, walks: Path) -> tuple[str, str, str]:
    """Walks that wait: of an urgent tree, one with a hazard open, and of a less urgent tree, the newest of all."""
    urgent = new_one(walks, lambda: typed("2\nstop\n", *REL))
    hazard = new_one(walks, lambda: typed(f"{HELD}stop\n", *REL))
    newest = new_one(walks, lambda: typed("2\n1\nstop\n", *THUMPS))
    return urgent, hazard, newest


def new_one(walks: Path, make) -> str:
    before = {each.id for each in summaries(walks)}
    make()
    [made] = {each.id for each in summaries(walks)} - before
    return made


def test_the_walk_that_presses_most_is_printed_last_and_how_many_there_are(typed, walks) -> None:
    urgent, hazard, newest = three_left(typed, walks)
    _, out, _ = typed("", "--resume", *REL[1:])
    assert out.startswith("3 walks wait or have left a hazard open. The last one presses most:")
    assert out.index(newest) < out.index(urgent) < out.index(hazard)
    assert out.endswith('Go on with one by "faulttree walk --resume ID".')


def test_of_walks_handed_over_the_role_s_own_presses_before_the_more_urgent_one(typed, walks) -> None:
    urgent, hazard, _ = three_left(typed, walks)
    mine = new_one(walks, lambda: typed("2\n1\nhand over mechanic\n", *THUMPS))
    _, out, _ = typed("", "--resume", "--as", "mechanic", *REL[1:])
    assert out.index(urgent) < out.index(mine) < out.index(hazard)
    _, out, _ = typed("", "--resume", "--as", "engineering", *REL[1:])
    assert out.index(mine) < out.index(urgent) < out.index(hazard)


def test_where_a_walk_begins_three_are_named_and_the_others_counted(typed, walks) -> None:
    urgent, hazard, newest = three_left(typed, walks)
    older = [new_one(walks, lambda: typed("2\nstop\n", *REL)) for _ in range(2)]
    _, out, _ = typed("", *REL[1:])
    assert '5 walks wait or have left a hazard open, 2 of them not here: "faulttree walk --resume" lists them.' in out
    assert [each in out for each in (hazard, *older, urgent, newest)] == [True, True, True, False, False]


def test_only_words_that_all_fit_begin_a_walk(typed, walks) -> None:
    _, out, _ = typed("thumps zzyzx\n", *REL[1:])
    assert 'Not all of "thumps zzyzx" fits. The nearest:' in out
    _, out, _ = typed("zzyzx\n", *REL[1:])
    assert 'Nothing like "zzyzx" is listed. All symptoms:' in out
    assert not walks.exists()
    typed("thumps\n2\n1\nstop\n", *REL[1:])
    assert len(summaries(walks)) == 1


# -- what became of the tree since


@pytest.fixture
def changed(tmp_path: Path):
    """Makes a copy of the shipped library with one text of the tree replaced; gives the words that name it."""

    def made(old: str, new: str) -> tuple[str, str]:
        folder = tmp_path / "library"
        shutil.copytree(shipped_library(), folder)
        file = folder / f"{REL[0]}.yaml"
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
        return "--library", str(folder)

    return made


def test_what_changed_in_meaning_is_told_before_the_walk_goes_on(typed, walks, changed) -> None:
    walk_id = left(typed, walks)
    library = changed("Still held: knee", "Still held: bracket")
    code, out, _ = typed("2\n2\n1\n1\nstop\n", "--resume", walk_id, *library)
    assert code == 3
    pushed = "With the cot pushed 10 mm forward and held, does the handle release it?"
    told = f'To be judged by somebody who knows the equipment: 1. - step "{pushed}": "Still held" leads elsewhere'
    assert out.index(told) < out.index("Your role?")
    knee = "Through the side window, what does the knee do when the handle is pulled fully?"
    bracket = "Are handle and bracket steady on the mount?"
    assert f'before: "{knee}" now: "{bracket}"' in out


KNEE = "Through the side window, what does the knee do when the handle is pulled fully?"


def test_it_goes_on_with_the_revision_in_use_from_the_first_step_that_changed(typed, walks, changed) -> None:
    code, out, _ = typed(
        "2\npeople here\nacknowledge\nStill held\npeople here\nacknowledge\nShort of the line\nstop\n",
        *REL,
        "--as",
        "mechanic",
    )
    assert code == 3
    [each] = summaries(walks)
    library = changed(KNEE, "What does the knee do when the handle is pulled fully?")
    code, out, _ = typed("2\n2\n1\npeople here\nacknowledge\nso far\nstop\n", "--resume", each.id, *library)
    assert code == 3
    assert out.index("before: ") < out.index("The walk goes on with revision 1 as it is in use now.")
    assert f"before: {KNEE} now: What does the knee do" in out
    assert "The first answer stands. It is asked again from: What does the knee do when" in out
    code, again, _ = typed("2\n2\n1\nstop\n", "--resume", each.id, *library)
    assert "What changed in meaning" not in again, "it goes by the new revision now"
    kinds = [entry.move.kind for entry in read_journal(each.path).entries]
    assert kinds.count(Kind.REVISED) == 1


def test_a_revision_with_errors_is_not_gone_on_with(typed, walks, changed) -> None:
    walk_id = left(typed, walks)
    library = changed("goto: override-bar}", "goto: nowhere}")
    code, out, _ = typed("2\n2\n1\n1\nstop\n", "--resume", walk_id, *library)
    assert code == 3
    assert "The walk goes on as it was then." in out
    [each] = summaries(walks)
    assert Kind.REVISED not in [entry.move.kind for entry in read_journal(each.path).entries]


def test_a_revision_that_does_not_know_what_is_open_is_not_gone_on_with(typed, walks, tmp_path) -> None:
    walk_id = left(typed, walks)
    folder = tmp_path / "library"
    shutil.copytree(shipped_library(), folder)
    for file in folder.glob("*.yaml"):
        file.write_text(file.read_text(encoding="utf-8").replace("lock-open", "lock-agape"), encoding="utf-8")
    code, out, _ = typed("2\n2\n1\n1\nstop\n", "--resume", walk_id, "--library", str(folder))
    assert code == 3
    assert 'The revision in use does not know what is open: "The lock is open.' in out
    assert "The walk goes on as it was then." in out


def test_a_withdrawn_tree_is_not_walked_on(typed, walks, changed) -> None:
    walk_id = left(typed, walks)
    library = changed("status: draft", "status: withdrawn")
    answers = "2\n2\n1\n1\n1\nunable no light\nback\ngive up too early\nopen\nhand over mechanic\n"
    code, out, _ = typed(answers, "--resume", walk_id, *library)
    assert code == 0
    assert out.count("The tree was withdrawn and is not walked on.") == 3
    assert "It cannot be given up while this is open (hazard: The lock is open." in out
    page = out.partition("HAND-OVER.")[2]
    assert page
    assert "Next:" not in page
    assert "Read-back code" not in page
    [each] = summaries(walks)
    kinds = [entry.move.kind for entry in read_journal(each.path).entries[-2:]]
    assert kinds == [Kind.TAKE_OVER, Kind.HAND_OVER], "nothing else was made of what was typed"
    code, out, _ = typed("2\n2\n2\n1\ngive up tree withdrawn\n", "--resume", walk_id, *library)
    assert (code, summaries(walks)) == (0, [])
    assert "The walk was given up (tree withdrawn)." in out
    code, out, _ = typed("2\n2\nAB\n", "--resume", walk_id, *library)
    assert "Nothing of this walk is open any more." in out, "what was left is closed as of any walk"


def test_a_withdrawn_walk_at_the_end_of_the_input_is_left_waiting(typed, walks, changed) -> None:
    walk_id = left(typed, walks)
    library = changed("status: draft", "status: withdrawn")
    code, out, _ = typed("2\n2\n1\n1\n", "--resume", walk_id, *library)
    assert code == 3
    assert f"Go on with it by: faulttree walk --resume {walk_id}" in out
