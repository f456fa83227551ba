"""Line mode: what a walk whose tree was withdrawn still takes, and how it is known that the tree was."""

from __future__ import annotations

import io
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from faulttree.cli.main import main
from faulttree.journal import read_journal, summaries
from faulttree.journal.names import default_folder
from faulttree.keys import Kind
from faulttree.library import shipped_library

LAMP = "lamp-does-not-light"
SAMPLE = Path(__file__).parents[1] / "sample"
REL = "cot-will-not-release"
TO_THE_BRACKET = "no|people here|acknowledge|Still held|people here|acknowledge|Short of the line|people here|Moves"
THE_WORK = "|".join(["people here", "acknowledge", *["done"] * 12])

Typed = Callable[..., tuple[int, str]]


@pytest.fixture(autouse=True)
def plain_surroundings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


class Copy:
    """A copy of a library, to be changed."""

    def __init__(self, folder: Path, source: Path, tree: str) -> None:
        self.folder = folder
        self.file = folder / f"{tree}.yaml"
        shutil.copytree(source, folder)

    def change(self, old: str, new: str, name: str = "") -> None:
        """Replace a text of the tree, or of the file of that name, wherever it stands."""
        file = self.folder / name if name else self.file
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new), encoding="utf-8")

    def withdraw(self) -> None:
        """Withdraw the tree."""
        self.change("status: draft", "status: withdrawn")


@pytest.fixture
def lamp(tmp_path: Path) -> Copy:
    return Copy(tmp_path / "library", SAMPLE, LAMP)


@pytest.fixture
def rel(tmp_path: Path) -> Copy:
    return Copy(tmp_path / "library", shipped_library(), REL)


@pytest.fixture
def typed(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Typed:
    """Runs ``faulttree walk`` with these lines typed; gives the exit code and what was printed, in one line."""

    def run(lines: str, copy: Copy, *words: str) -> tuple[int, str]:
        monkeypatch.setattr(sys, "stdin", io.StringIO(f"{lines}|".replace("|", "\n") if lines else ""))
        code = main(["walk", "--plain", *words, "--library", str(copy.folder)])
        return code, " ".join(capsys.readouterr().out.split())

    return run


def walk_id() -> str:
    [each] = summaries(default_folder(), include_ended=True)
    return each.id


def kinds() -> list[Kind]:
    [each] = summaries(default_folder(), include_ended=True)
    return [entry.move.kind for entry in read_journal(each.path).entries]


@pytest.mark.parametrize("label", ["Stop missing", "Open circuit", "Notes missing", "Code worn", "Help pin bent"])
def test_a_finding_that_begins_with_a_word_is_no_word(typed: Typed, lamp: Copy, label: str) -> None:
    lamp.change("Clicks", label)
    typed("Finch|acknowledge|Stays dark|stop", lamp, LAMP, "--as", "repairer")
    before = kinds()
    lamp.withdraw()
    code, out = typed(f"repairer|1|{label}|2|finding {label}|stop", lamp, "--resume", walk_id())
    assert code == 3
    assert out.count("The tree was withdrawn and is not walked on.") == 3
    assert kinds() == [*before, Kind.TAKE_OVER, Kind.STOP]


def test_what_is_no_answer_is_not_told_the_answers_of_the_step(typed: Typed, lamp: Copy) -> None:
    typed("Finch|acknowledge|stop", lamp, LAMP, "--as", "repairer")
    lamp.withdraw()
    _, out = typed("repairer|1|sunny|note seen|help|Stop.", lamp, "--resume", walk_id())
    assert "Lights" not in out.partition("IS NOT WALKED ON")[2].partition("sunny")[2]
    assert "The tree was withdrawn and is not walked on. Type" in out
    assert "also found TEXT" not in out, "help names what counts here"
    assert "hand over ROLE: the walk waits" in out
    assert kinds()[-2:] == [Kind.NOTE, Kind.STOP]


def test_a_withdrawn_walk_has_no_code_wherever_it_is_asked_for(typed: Typed, lamp: Copy) -> None:
    """While it is taken up, at its own prompt, and at what that asks more."""
    typed("Finch|acknowledge|stop", lamp, LAMP, "--as", "repairer")
    assert "Read-back code" in typed("code|repairer|1|code|note|code|stop", lamp, "--resume", walk_id())[1]
    lamp.withdraw()
    code, out = typed("code|repairer|1|code|note|code|stop", lamp, "--resume", walk_id())
    assert code == 3
    assert "Read-back code" not in out
    assert out.count("This walk has no read-back code: its tree was withdrawn") == 3


@pytest.mark.parametrize("broken", ["library.yaml", "parts.yaml", "tools.yaml", f"{LAMP}.yaml", "another.yaml"])
def test_an_error_in_the_library_in_use_hides_no_withdrawal(typed: Typed, lamp: Copy, broken: str) -> None:
    typed("Finch|acknowledge|stop", lamp, LAMP, "--as", "repairer")
    lamp.withdraw()
    with (lamp.folder / broken).open("a", encoding="utf-8") as file:
        file.write("\n: : [no yaml\n")
    code, out = typed("repairer|1|Lights|stop", lamp, "--resume", walk_id())
    assert code == 3
    assert "THIS TREE HAS BEEN WITHDRAWN" in out
    assert "The tree was withdrawn and is not walked on." in out


def test_a_tree_of_another_name_that_was_withdrawn_withdraws_nothing(typed: Typed, lamp: Copy) -> None:
    typed("Finch|acknowledge|stop", lamp, LAMP, "--as", "repairer")
    text = lamp.file.read_text(encoding="utf-8")
    other = text.replace(f"id: {LAMP}", "id: lamp-of-before").replace("status: draft", "status: withdrawn")
    (lamp.folder / "lamp-of-before.yaml").write_text(other, encoding="utf-8")
    _, out = typed("repairer|1|stop", lamp, "--resume", walk_id())
    assert "WITHDRAWN" not in out


def at_the_wait(typed: Typed, copy: Copy) -> str:
    """A walk whose work was done and has to cure; its id."""
    typed(f"{TO_THE_BRACKET}|{THE_WORK}|stop", copy, REL, "--as", "mechanic")
    return walk_id()


def test_what_has_to_be_waited_for_stands_at_the_hand_over_of_a_withdrawn_walk(typed: Typed, rel: Copy) -> None:
    which = at_the_wait(typed, rel)
    rel.withdraw()
    code, out = typed("mechanic|2|1|1|1|1|hand over mechanic", rel, "--resume", which)
    assert code == 0
    page = out.rpartition("HAND-OVER.")[2]
    assert "NOT BEFORE 20" in page
    assert "Handed over to: mechanic." in page
    assert "Next:" not in page


def test_a_walk_that_is_given_up_says_until_when_to_wait(typed: Typed, rel: Copy) -> None:
    code, out = typed(f"{TO_THE_BRACKET}|{THE_WORK}|give up spare cot taken", rel, REL, "--as", "mechanic")
    assert code == 0
    last = out.rpartition("STILL OPEN (duty)")[2]
    assert 0 < last.index("NOT BEFORE 20") < last.index("The walk was given up (spare cot taken).")


@pytest.mark.parametrize("lines", ["", "stop", "mechanic", "mechanic|stop", "mechanic|2", "mechanic|2|stop"])
def test_what_stays_open_is_said_last_where_closing_it_is_left(typed: Typed, rel: Copy, lines: str) -> None:
    """By stop, or at the end of the input, at any of its questions."""
    typed(f"{TO_THE_BRACKET}|{THE_WORK}|give up spare cot taken", rel, REL, "--as", "mechanic")
    code, out = typed(lines, rel, "--resume", walk_id())
    assert code == 3
    last = out[out.index("STILL OPEN (duty): Tag on the mount.") :]
    assert "?" not in last
    assert "NOT BEFORE 20" in last
    assert last.endswith("The walk was given up (spare cot taken). NOT APPROVED FOR RETURN TO SERVICE.")


def test_what_stays_open_is_said_where_closing_is_broken_off(
    typed: Typed, rel: Copy, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(f"{TO_THE_BRACKET}|{THE_WORK}|give up spare cot taken", rel, REL, "--as", "mechanic")

    class BrokenOff(io.StringIO):
        def readline(self, *_: object) -> str:
            raise KeyboardInterrupt

    monkeypatch.setattr(sys, "stdin", BrokenOff())
    code = main(["walk", "--plain", "--resume", walk_id(), "--library", str(rel.folder)])
    assert code == 130
    assert "STILL OPEN (duty): Tag on the mount." in " ".join(capsys.readouterr().out.split())
