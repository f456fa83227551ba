"""The files that a walk goes by."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from journal_walks import (
    DATA,
    FILES,
    Loaded,
    begun,
    load,
)

from faulttree.journal import (
    open_journal,
    replay,
)
from faulttree.journal.chain import canonical
from faulttree.journal.copies import keep, read_copy
from faulttree.problems import JournalError


def test_the_files_are_kept_byte_for_byte_and_written_once(tmp_path: Path, loaded: Loaded) -> None:
    journal, _ = begun(tmp_path, *loaded)
    place = journal.recorded.copy_folder
    assert {name: (place / name).read_bytes() for name in FILES} == DATA
    before = {path: path.stat().st_ino for path in (tmp_path / "copies").rglob("*")}
    other, _ = begun(tmp_path, *loaded, seed=2)
    assert other.recorded.copy_folder == place
    assert {path: path.stat().st_ino for path in (tmp_path / "copies").rglob("*")} == before


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda place: (place / "limits.yaml").write_bytes(b"faulttree: 1\n"), "limits.yaml"),
        (lambda place: (place / "limits.yaml").unlink(), "is not there"),
        (lambda place: (place / "trees" / "more.yaml").touch(), "more.yaml"),
        (lambda place: shutil.rmtree(place), "is not there"),
    ],
)
def test_a_changed_copy_is_noticed_and_mended_by_the_next_walk(
    tmp_path: Path, loaded: Loaded, change: Callable[[Path], object], said: str
) -> None:
    journal, walk = begun(tmp_path, *loaded)
    change(journal.recorded.copy_folder)
    with pytest.raises(JournalError, match=said):
        replay(journal.recorded, load)
    journal.close()
    open_journal(journal.path).close()
    begun(tmp_path, *loaded, seed=2)
    assert replay(journal.recorded, load) == walk


@pytest.mark.parametrize("name", ["../out.yaml", "/out.yaml", "a/../../out.yaml", "", "c:out.yaml", "a\\out.yaml"])
def test_a_file_is_not_kept_outside_of_its_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(JournalError, match="cannot be the name"):
        keep(tmp_path / "copies", {name: b""})
    assert not list(tmp_path.rglob("*.yaml"))


# A disk takes its time over each file: few examples, and no deadline.
@settings(max_examples=30, deadline=None)
@given(
    st.dictionaries(st.from_regex(r"[a-z]{1,3}(/[a-z]{1,3}\.x)?", fullmatch=True), st.binary(max_size=9), max_size=5)
)
def test_kept_files_come_back(files: dict[str, bytes]) -> None:
    import tempfile

    files = {name: data for name, data in files.items() if not any(each.startswith(name + "/") for each in files)}
    with tempfile.TemporaryDirectory() as folder:
        place = keep(Path(folder), files)
        assert keep(Path(folder), files) == place
        digests = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
        assert place.name == hashlib.sha256(canonical(digests)).hexdigest()
        assert read_copy(place, digests) == files
