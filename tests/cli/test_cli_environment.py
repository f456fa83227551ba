"""Commands in surroundings that are not as they should be: encodings, windows, folders, no libyaml."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, SAMPLE

COMMANDS = [
    ["--version"],
    ["--help"],
    ["help", "walk"],
    ["symptoms"],
    ["symptoms", "lmp"],
    ["check", "--explore", "-v"],
    ["check", "--format", "json"],
    ["ways", LAMP],
    ["explain"],
    ["where"],
    ["schema", "tree"],
    ["completion", "fish"],
]
SURROUNDINGS = {
    "C locale": {"LC_ALL": "C"},
    "C locale without UTF-8": {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    "ascii": {"PYTHONIOENCODING": "ascii"},
    "narrow": {"COLUMNS": "40"},
    "very narrow": {"COLUMNS": "1"},
    "dumb": {"TERM": "dumb"},
    "no colour": {"NO_COLOR": "1"},
    "colour": {"FORCE_COLOR": "1"},
    "odd time zone": {"TZ": "Asia/Kathmandu"},
    "no home": {"HOME": "/nonexistent", "XDG_STATE_HOME": "", "XDG_DATA_HOME": "relative"},
}


ALL_IN_TURN = f"""
import sys
from faulttree.cli.main import main
codes = [main(words) for words in {COMMANDS!r}]
sys.exit(",".join(map(str, codes)))
"""


def start(*words: str, **environ: str) -> subprocess.CompletedProcess[bytes]:
    """Python with these words in a process of its own."""
    library = {"FAULTTREE_LIBRARY": str(SAMPLE)}
    env = {**os.environ, **library, "PYTHONPATH": str(ROOT), "PYTHONWARNINGS": "error", **environ}
    return subprocess.run([sys.executable, *words], cwd=ROOT, env=env, capture_output=True)


@pytest.mark.parametrize("name", SURROUNDINGS)
def test_every_command_ends_well_and_writes_no_escapes(name: str) -> None:
    ran = start("-c", ALL_IN_TURN, **SURROUNDINGS[name])
    assert b"Traceback" not in ran.stderr
    assert b"error" not in ran.stderr
    *_, codes = ran.stderr.decode("ascii", "replace").split()
    assert codes == ",".join("0" for _ in COMMANDS)
    written = set((ran.stdout + ran.stderr).replace(b"\x1b[1m", b"").replace(b"\x1b[0m", b""))
    assert not written & (set(range(0x20)) - {0x0A})
    assert (b"\x1b[1m" in ran.stdout) == (name == "colour")


def test_without_docstrings_the_rules_have_no_pages() -> None:
    """Python leaves them out with -OO; everything else works."""
    for words, code in ((["check"], 0), (["symptoms"], 0), (["completion", "bash"], 0), (["explain"], 2)):
        ran = start("-OO", "-m", "faulttree", *words)
        assert ran.returncode == code, ran.stderr
        assert (b"without -OO" in ran.stderr) == bool(code)


def test_signs_in_ascii_stay_readable(tmp_path: Path) -> None:
    """A sign that has a form in ASCII takes it, any other stands as its code."""
    folder = tmp_path / "library"
    shutil.copytree(SAMPLE, folder)
    file = folder / f"{LAMP}.yaml"
    text = file.read_text(encoding="utf-8").replace("does not light\n", "draws ≥ 3 N·m → 音\n")
    file.write_text(text, encoding="utf-8")
    ran = start("-m", "faulttree", "symptoms", FAULTTREE_LIBRARY=str(folder), PYTHONIOENCODING="ascii")
    assert ran.returncode == 0
    assert b"The lamp draws >= 3 N.m -> \\u97f3" in ran.stdout


@pytest.mark.parametrize("words", [["--version"], ["--help"], ["symptoms"], ["check"], ["ways", LAMP], ["where"]])
def test_the_current_folder_may_be_gone(words: list[str], tmp_path: Path) -> None:
    """A shell may stand in a folder that somebody deleted."""
    gone = tmp_path / "gone"
    gone.mkdir()
    program = "import os, sys; os.rmdir(os.getcwd()); from faulttree.cli.main import main; sys.exit(main(sys.argv[1:]))"
    env = {**os.environ, "FAULTTREE_LIBRARY": str(SAMPLE), "PYTHONPATH": str(ROOT)}
    ran = subprocess.run([sys.executable, "-c", program, *words], cwd=gone, env=env, capture_output=True)
    assert ran.returncode == 0, ran.stderr
    assert b"Traceback" not in ran.stderr


def test_without_libyaml_everything_is_the_same(tmp_path: Path) -> None:
    """PyYAML may be built without it; problems and exit code stay."""
    folder = tmp_path / "library"
    shutil.copytree(SAMPLE, folder)
    file = folder / f"{LAMP}.yaml"
    text = file.read_text(encoding="utf-8").replace("who: user\n    minutes", "who: usr\n    minutes")
    file.write_text(text, encoding="utf-8")
    hide = "import sys; sys.modules['yaml._yaml'] = sys.modules['_yaml'] = None; "
    program = "from faulttree.cli.main import main; sys.exit(main(sys.argv[1:]))"
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = [
        subprocess.run(
            [sys.executable, "-c", first + program, "check", str(folder)], cwd=ROOT, env=env, capture_output=True
        )
        for first in (hide, "import sys; ")
    ]
    assert ran[0].returncode == 1
    assert (ran[0].stdout, ran[0].returncode) == (ran[1].stdout, ran[1].returncode)


def test_a_reader_that_goes_away_ends_it_quietly() -> None:
    """As in `faulttree check | head -1`."""
    code = "import sys; from faulttree.cli.main import main; sys.exit(main(['schema', 'tree']))"
    read, write = os.pipe()
    os.close(read)
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, stdout=write, stderr=subprocess.PIPE, check=False)
    os.close(write)
    assert (ran.returncode, ran.stderr) == (141, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_is_told() -> None:
    with open("/dev/full", "wb") as full:
        ran = subprocess.run(
            [sys.executable, "-m", "faulttree", "schema", "tree"], cwd=ROOT, stdout=full, stderr=subprocess.PIPE
        )
    assert ran.returncode == 2
    assert b"no space left on device" in ran.stderr
    assert b"Traceback" not in ran.stderr
    assert b"Exception ignored" not in ran.stderr


def test_closed_streams_are_no_error() -> None:
    ran = subprocess.run(
        f'"{sys.executable}" -m faulttree schema >&- 2>&-', shell=True, cwd=ROOT, check=False, capture_output=True
    )
    assert ran.returncode == 0


def test_arguments_that_are_no_text_are_told() -> None:
    """A name of bytes that are no UTF-8, as file systems allow."""
    ran = subprocess.run(
        [sys.executable, "-m", "faulttree", "check", b"a\xff\x1b[2Jb"], cwd=ROOT, capture_output=True, check=False
    )
    assert ran.returncode == 2
    assert b"\\x1b" in ran.stderr
    assert b"\xff" not in ran.stderr
