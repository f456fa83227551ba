"""Finding the command, help, suggestions, errors and exit codes."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from cli_runs import SAMPLE, MakeLibrary, Run

from faulttree import __version__
from faulttree.cli import check, main
from faulttree.cli.exits import MEANINGS, ExitCode
from faulttree.problems import LibraryError, MoveError, UnreadableError

NAMES = [name for name, _ in main.COMMANDS]


@pytest.mark.parametrize("words", [[], ["--practice"], ["--library", str(SAMPLE), "--calm"]])
def test_without_a_command_a_symptom_is_picked(words: list[str], run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Here is no terminal, so line by line; the options of walking may stand alone."""
    monkeypatch.setattr("sys.stdin", io.StringIO())
    ran = run(*words)
    assert ran.code == ExitCode.USAGE
    assert "What is wrong?" in ran.out
    assert "no symptom was chosen" in ran.err
    assert "faulttree --help" in ran.err


@pytest.mark.parametrize("words", [["--version"], ["version"], ["--debug", "--version"]])
def test_version(words: list[str], run: Run) -> None:
    assert run(*words) == (0, f"faulttree {__version__}\n", "")


@pytest.mark.parametrize("words", [["--help"], ["-h"], ["help"], ["help", "help"]])
def test_the_help_lists_every_command_and_exit_code(words: list[str], run: Run) -> None:
    ran = run(*words)
    assert (ran.code, ran.err) == (0, "")
    for name, about in main.COMMANDS:
        assert f"  {name} " in ran.out
        assert about in ran.out
    for code, text in MEANINGS:
        assert f"{int(code)} " in ran.out
        assert text.split(";")[0] in ran.out
    assert set(ExitCode) == {code for code, _ in MEANINGS}


@pytest.mark.parametrize("name", NAMES)
def test_help_of_a_command_is_the_same_wherever_it_is_asked_for(name: str, run: Run) -> None:
    """`-h` and `--help` before and after the command, after words that would not fit, and `help`."""
    shown = run("help", name)
    assert (shown.code, shown.err) == (0, "")
    for words in ([name, "-h"], [name, "--help"], ["--help", name], [name, "--nonsense", "-h"]):
        assert run(*words) == shown


def test_help_after_two_dashes_is_a_word(run: Run) -> None:
    assert run("symptoms", "--", "--help").out.startswith("No symptom fits")


@pytest.mark.parametrize("columns", ["40", "80"])
@pytest.mark.parametrize("name", ["", *NAMES])
def test_help_fits_the_window(name: str, columns: str, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only commands to copy and names may be longer than the window is wide."""
    monkeypatch.setenv("COLUMNS", columns)
    ran = run("help", *([name] if name else []))
    for line in ran.out.splitlines():
        assert len(line) <= int(columns) or line.startswith(("  faulttree", "#")) or " " not in line.strip()


@pytest.mark.parametrize(
    ("words", "advice"),
    [
        (["chek"], 'did you mean "check"?'),
        (["symptms"], 'did you mean "symptoms"?'),
        (["help", "wher"], 'did you mean "where"?'),
        (["check", "--formt", "json"], 'did you mean "--format"?'),
        (["check", "--form=json"], 'did you mean "--format"?'),
        (["check", "--format", "jsn"], 'did you mean "json"?'),
        (["--libary", "x", "check"], 'did you mean "--library"?'),
        (["ways", "cot-will-not-releas"], 'did you mean "cot-will-not-release"?'),
        (["ways", "cot-will-not-release", "--as", "mechanik"], 'did you mean "mechanic"?'),
        (["ways", "cot-will-not-release", "--model", "Aldr"], 'did you mean "Alder"?'),
        (["schema", "tre"], 'did you mean "tree"?'),
        (["completion", "bsh"], 'did you mean "bash"?'),
        (["check", "tree"], 'did you mean "trees"?'),
        (["xyzzy"], '"faulttree --help" lists the commands'),
        (["--library"], '"faulttree --help" lists options and commands'),
        (["version", "surplus"], '"faulttree help version" shows how it is called'),
        (["ways"], '"faulttree help ways" shows how it is called'),
        (["ways", "x", "--limit", "0"], '"faulttree help ways" shows how it is called'),
    ],
)
def test_what_does_not_fit_is_told_in_one_sentence_with_advice(words: list[str], advice: str, run: Run) -> None:
    """Nothing is guessed and run; options are never abbreviated."""
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("error: ")
    assert " ".join(ran.err.split()).endswith(advice)


def test_the_library_may_be_named_before_and_after_the_command(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    before = run("--library", folder, "symptoms", "--format", "ids")
    assert before.out == "lamp-does-not-light\n"
    assert run("symptoms", "--format", "ids", "--library", folder) == before
    assert run(f"--library={folder}", "symptoms", "--format", "ids") == before


def test_a_library_that_is_none_is_told(run: Run, tmp_path: Path) -> None:
    ran = run("--library", str(tmp_path), "symptoms")
    assert ran.code == 2
    assert "there is no library.yaml in" in ran.err


def test_only_the_module_of_the_command_is_loaded() -> None:
    """The table and the modules say the same names."""
    folder = Path(main.__file__).parent
    for name in NAMES:
        assert name == "help" or (folder / f"{name}.py").is_file()


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (UnreadableError("it is not there", "look again"), 2, "error: it is not there\n  look again\n"),
        (MoveError("not now"), 2, "error: not now\n"),
        (LibraryError("it has problems", "mend it"), 1, "error: it has problems\n  mend it\n"),
        (OSError(28, "No space left on device", "disk"), 2, 'error: "disk": no space left on device\n'),
        (KeyboardInterrupt(), 130, "\nStopped.\n"),
        (BrokenPipeError(), 141, ""),
    ],
)
def test_errors_end_in_sentences(
    error: BaseException, code: int, said: str, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(check, "run", _raiser(error))
    ran = run("check")
    assert ran.code == code
    assert ran.err.startswith(said)
    assert "Traceback" not in ran.err


def _raiser(error: BaseException) -> Callable[[object], int]:
    def run(_: object) -> int:
        raise error

    return run


def test_an_unexpected_error_goes_to_the_log(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence and where the log is; the traceback is there, and on stderr only with --debug."""
    monkeypatch.setattr(check, "run", _raiser(ZeroDivisionError("by\x1b zero")))
    ran = run("check")
    assert ran.code == 2
    assert "something went wrong inside faulttree (ZeroDivisionError)" in ran.err
    assert "Traceback" not in ran.err
    [log] = (tmp_path / "home" / "state").rglob("*.log")
    assert str(log) in ran.err.replace("\n  ", "")
    assert "ZeroDivisionError: by" in log.read_text(encoding="utf-8")
    shown = run("check", "--debug").err
    assert "Traceback" in shown
    assert "\x1b" not in shown


def test_a_log_that_cannot_be_written_is_told(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "home").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(check, "run", _raiser(ZeroDivisionError()))
    ran = run("check")
    assert ran.code == 2
    assert "the log file cannot be written" in ran.err
    assert "--debug" in ran.err


def test_problems_of_a_library_that_stop_a_command_are_listed(run: Run, library: MakeLibrary) -> None:
    folder = library("start: spare-cell", "stat: spare-cell")
    ran = run("--library", str(folder), "ways", "lamp-does-not-light")
    assert ran.code == 1
    assert "lamp-does-not-light.yaml:" in ran.err
    assert "faulttree check" in ran.err


def test_colour_is_set_for_the_command_only_by_its_option(run: Run) -> None:
    assert "\x1b[1m" in run("symptoms", "--color", "always").out
    assert "\x1b[1m" in run("--color=always", "symptoms").out
    assert "\x1b" not in run("symptoms").out
    assert run("symptoms", "--color", "sometimes").code == 2


def test_the_module_is_the_program(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """`main()` without words takes those of the process."""
    monkeypatch.setattr(sys, "argv", ["faulttree", "version"])
    try:
        assert main.main() == 0
    finally:
        gc.enable()
        gc.unfreeze()
    assert capsys.readouterr().out.startswith("faulttree ")
