"""schema, where, completion, and the pages made from the parsers."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
from cli_runs import ROOT, SAMPLE, MakeLibrary, Run

from faulttree import docs
from faulttree.cli.commands_page import commands_page
from faulttree.cli.main import COMMANDS
from faulttree.library import shipped_library
from faulttree.load.schema import KINDS, schema_text

# -- schema


def test_the_kinds_are_listed(run: Run) -> None:
    assert run("schema").out.split() == list(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_printed_as_it_ships(kind: str, run: Run) -> None:
    assert json.loads(run("schema", kind).out) == json.loads(schema_text(kind))


def test_schemas_are_written_and_nothing_is_replaced_unasked(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    ran = run("schema", "-o", str(folder))
    assert (ran.code, ran.out) == (0, "")
    assert sorted(path.name for path in folder.iterdir()) == sorted(f"{kind}.schema.json" for kind in KINDS)
    assert run("schema", "-o", str(folder)).code == 0
    own = folder / "tree.schema.json"
    own.write_text("mine", encoding="utf-8")
    ran = run("schema", "-o", str(folder))
    assert ran.code == 2
    assert "--force" in ran.err
    assert own.read_text(encoding="utf-8") == "mine"
    assert run("schema", "tree", "-o", str(folder), "--force").code == 0
    assert own.read_text(encoding="utf-8") == schema_text("tree")


def test_a_folder_that_cannot_be_written_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    ran = run("schema", "-o", str(tmp_path / "file"))
    assert ran.code == 2
    assert "cannot be written" in ran.err


# -- where


def test_where_says_why_a_library_is_in_use(
    run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By option, by the environment, upward from here, and the one that ships."""
    folder = library()

    def said(*words: str) -> tuple[str, str]:
        found = json.loads(run("where", "--format", "json", *words).out)
        return found["library"], found["library_because"]

    assert said() == (str(shipped_library()), "the one that ships with the program")
    assert said("--library", str(folder)) == (str(folder), "named by --library")
    (folder / "below").mkdir()
    monkeypatch.chdir(folder / "below")
    assert said() == (str(folder), "the nearest library.yaml from the current folder upward")
    monkeypatch.setenv("FAULTTREE_LIBRARY", str(SAMPLE))
    assert said() == (str(SAMPLE), "named by $FAULTTREE_LIBRARY")
    monkeypatch.setenv("FAULTTREE_LIBRARY", str(tmp_path))
    assert json.loads(run("where", "--format", "json").out)["library"] is None


def test_where_prints_the_folders_and_makes_none(run: Run, tmp_path: Path) -> None:
    ran = run("where")
    assert ran.code == 0
    for name in ("data/faulttree/walks", "data/faulttree/practice", "state/faulttree", "cache/faulttree"):
        assert str(tmp_path / "home" / name) in ran.out
    assert not (tmp_path / "home").exists()


# -- completion


def test_every_command_and_option_is_in_every_script(run: Run) -> None:
    for shell in ("bash", "zsh", "fish"):
        script = run("completion", shell).out
        for name, _ in COMMANDS:
            assert name in script
        for option in ("concise", "explore", "library", "limit", "output"):
            assert option in script
        assert "symptoms --format ids" in script


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shell_can_read_its_script(shell: str, run: Run, tmp_path: Path) -> None:
    if not shutil.which(shell):
        pytest.skip(f"{shell} is not installed")
    script = tmp_path / "script"
    script.write_text(run("completion", shell).out, encoding="utf-8")
    subprocess.run([shell, "-n", str(script)], check=True)


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (["sym"], ["symptoms"]),
        (["--library", "x", "che"], ["check"]),
        (["check", "--conc"], ["--concise"]),
        (["check", "--format", "js"], ["json"]),
        (["--color", "al"], ["always"]),
        (["ways", "lamp"], ["lamp-does-not-light"]),
        (["schema", "tr"], ["tree"]),
        (["explain", "cause-l"], ["cause-lost"]),
        (["completion", "f"], ["fish"]),
        (["help", "wh"], ["where"]),
        (["version", ""], []),
    ],
)
def test_what_bash_offers(words: list[str], offered: list[str], run: Run, tmp_path: Path) -> None:
    if not shutil.which("bash"):
        pytest.skip("bash is not installed")
    script = tmp_path / "script"
    asked = f"COMP_WORDS=(faulttree {' '.join(repr(word) for word in words)}); COMP_CWORD={len(words)}"
    ids = "faulttree() { echo lamp-does-not-light; echo wheel-thumps; }"
    ends = '_faulttree; printf "%s\\n" "${COMPREPLY[@]}"'
    script.write_text("\n".join((run("completion", "bash").out, ids, asked, ends)))
    done = subprocess.run(["bash", str(script)], check=True, capture_output=True, text=True)
    assert done.stdout.split() == offered


@pytest.mark.skipif(not shutil.which("fish"), reason="fish is not installed")
@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("faulttree sym", ["symptoms"]),
        ("faulttree check --conc", ["--concise"]),
        ("faulttree check --format ", ["github", "json", "junit", "sarif", "text"]),
        ("faulttree ways lamp", ["lamp-does-not-light"]),
        ("faulttree explain cause-l", ["cause-lost"]),
    ],
)
def test_what_fish_offers(line: str, offered: list[str], run: Run, tmp_path: Path) -> None:
    script = tmp_path / "script"
    ids = "function faulttree; echo lamp-does-not-light; end"
    script.write_text("\n".join((run("completion", "fish").out, ids, f"complete -C '{line}'")))
    done = subprocess.run(["fish", str(script)], check=True, capture_output=True, text=True)
    assert [each.split("\t")[0] for each in done.stdout.splitlines()] == offered


# -- pages


def test_the_page_of_the_commands_is_what_the_parsers_say() -> None:
    """Make it anew by: python -m faulttree.docs"""
    assert (ROOT / "docs" / "commands.md").read_text(encoding="utf-8") == commands_page()


def test_the_page_has_every_command() -> None:
    page = commands_page()
    for name, _ in COMMANDS:
        assert name == "help" or f"\n## {name}\n" in page


def test_docs_are_written_and_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "docs"
    folder.mkdir()
    assert docs.main(["--check"], folder) == 1
    assert list(folder.iterdir()) == []
    assert docs.main([], folder) == 0
    assert sorted(path.name for path in folder.iterdir()) == ["commands.md", "format.md", "rules.md"]
    assert docs.main(["--check"], folder) == 0
    (folder / "rules.md").write_text("old", encoding="utf-8")
    capsys.readouterr()
    assert docs.main(["--check"], folder) == 1
    assert capsys.readouterr().out == "docs/rules.md\n"
    assert docs.main(["--chek"], folder) == 2


def test_the_pages_in_the_checkout_are_new() -> None:
    """Make them anew by: python -m faulttree.docs"""
    assert docs.differing(ROOT / "docs").keys() == set()
