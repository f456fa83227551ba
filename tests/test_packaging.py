"""Wheel, source archive and editable install all find the shipped library and the schemas."""

from __future__ import annotations

import shutil
import subprocess
import sys
import sysconfig
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SEE = """
from faulttree.library import load_library, shipped_library
from faulttree.checking import check_library
from faulttree.load.schema import KINDS, schema_text
loaded = load_library(shipped_library())
assert check_library(loaded) == [], check_library(loaded)
assert len(loaded.trees) >= 3
assert all(schema_text(kind) for kind in KINDS)
print(shipped_library())
"""

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def source(tmp_path_factory):
    """A copy of what belongs to the project, so that building leaves nothing behind."""
    copy = tmp_path_factory.mktemp("source")
    for name in ("faulttree", "trees", "docs"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", ".mypy_cache"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, copy)
    (copy / "tests").mkdir()
    (copy / "tests" / "test_nothing.py").touch()
    return copy


def build(source: Path, where: Path, kind: str) -> Path:
    command = [sys.executable, "-m", "build", f"--{kind}", "--no-isolation", "--outdir", str(where), str(source)]
    subprocess.run(command, check=True, capture_output=True)
    [made] = where.iterdir()
    return made


def environment(where: Path) -> Path:
    """A new environment that sees the packages that faulttree needs, but not faulttree itself."""
    venv.create(where, with_pip=True)
    python = where / ("Scripts" if sys.platform == "win32" else "bin") / "python"
    site = Path(
        subprocess.check_output(
            [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], text=True
        ).strip()
    )
    for package in ("yaml", "_yaml", "jsonschema", "jsonschema_specifications", "referencing", "rpds", "attr", "attrs",
                    "platformdirs", "hatchling", "pathspec", "pluggy", "trove_classifiers", "packaging", "editables",
                    "typing_extensions.py"):  # fmt: skip
        here = Path(sysconfig.get_path("purelib")) / package
        if here.exists():
            (site / package).symlink_to(here)
    return python


def sees_its_data(python: Path, cwd: Path) -> str:
    done = subprocess.run([python, "-c", SEE], cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def install(python: Path, *what: str) -> None:
    command = [python, "-m", "pip", "install", "--quiet", "--no-deps", "--no-build-isolation", *what]
    subprocess.run(command, check=True, capture_output=True)


def test_wheel(source, tmp_path) -> None:
    wheel = build(source, tmp_path / "dist", "wheel")
    names = zipfile.ZipFile(wheel).namelist()
    assert "faulttree/_trees/library.yaml" in names
    assert "faulttree/load/schemas/tree.schema.json" in names
    assert "faulttree/py.typed" in names
    python = environment(tmp_path / "env")
    install(python, str(wheel))
    assert "_trees" in sees_its_data(python, tmp_path)


def test_source_archive_makes_the_same_wheel(source, tmp_path) -> None:
    archive = build(source, tmp_path / "dist", "sdist")
    with tarfile.open(archive) as packed:
        # The filter came with Python 3.11.4; without it the archive, which was made here, is unpacked as it is.
        packed.extractall(tmp_path / "unpacked", **({"filter": "data"} if hasattr(tarfile, "data_filter") else {}))
    [unpacked] = (tmp_path / "unpacked").iterdir()
    assert {"README.md", "DEVELOPERS.md", "trees", "tests", "docs"} <= {path.name for path in unpacked.iterdir()}
    direct = build(source, tmp_path / "direct", "wheel")
    again = build(unpacked, tmp_path / "again", "wheel")
    assert zipfile.ZipFile(direct).namelist() == zipfile.ZipFile(again).namelist()


def test_editable_install_reads_the_trees_of_the_checkout(source, tmp_path) -> None:
    python = environment(tmp_path / "env")
    install(python, "-e", str(source))
    assert sees_its_data(python, tmp_path) == str(source / "trees")


def test_version_is_the_same_everywhere(source, tmp_path) -> None:
    from faulttree import __version__

    wheel = build(source, tmp_path / "dist", "wheel")
    assert f"-{__version__}-" in wheel.name
