"""Ids and UUIDs of walks."""

from __future__ import annotations

import datetime
import os
from pathlib import Path
from uuid import UUID

import platformdirs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_walks import (
    DATA,
    NOON,
    Loaded,
    begun,
)

from faulttree.journal import (
    Facts,
    create,
    default_folder,
    replay,
)
from faulttree.journal.names import ALPHABET, uuid7, walk_ids
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError


def test_the_uuid_is_the_example_of_rfc_9562() -> None:
    # RFC 9562, appendix A.6: 22 February 2022, 14:22:22 at UTC-5, rand_a CC3, rand_b 18C4DC0C0C07398F. Quoted.
    now = datetime.datetime(2022, 2, 22, 14, 22, 22, tzinfo=datetime.timezone(-datetime.timedelta(hours=5)))
    chance = bytes.fromhex("0CC318C4DC0C0C07398F")
    assert uuid7(now, lambda size: chance[:size]) == UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")


@given(
    st.datetimes(datetime.datetime(1970, 1, 2), datetime.datetime(9999, 12, 30)), st.binary(min_size=10, max_size=10)
)
def test_a_uuid_has_its_version_its_variant_and_its_time(when: datetime.datetime, chance: bytes) -> None:
    now = when.replace(tzinfo=datetime.UTC)
    made = uuid7(now, lambda size: chance[:size])
    assert (made.version, made.variant) == (7, "specified in RFC 4122")
    milliseconds = (now - datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)) // datetime.timedelta(milliseconds=1)
    assert made.int >> 80 == milliseconds


def test_an_id_has_the_short_name_the_day_and_two_characters_that_do_not_look_alike(
    tmp_path: Path, loaded: Loaded
) -> None:
    journal, _ = begun(tmp_path, *loaded)
    assert journal.id[:9] == "LMP-1125-"
    assert len(journal.id) == 11
    assert set(journal.id[9:]) <= set(ALPHABET)
    assert not set(ALPHABET) & set("B8I1O0S5UVZ2")
    practice, _ = begun(tmp_path, *loaded, facts=Facts(practice=True))
    assert practice.id.startswith("PRACTICE-LMP-1125-")


def test_equal_chance_does_not_make_equal_ids(tmp_path: Path, loaded: Loaded) -> None:
    tree, library = loaded
    move = Move(Kind.BEGIN, model="Wren")
    walk = replay(begun(tmp_path, tree, library)[0].recorded, lambda folder, name: loaded)
    ids = [create(tmp_path, DATA, walk, move, Facts(), NOON, lambda size: b"\7" * size).id for _ in range(4)]
    assert ids == ["LMP-1125-JJ", "LMP-1125-JJJ", "LMP-1125-JJJJ", "LMP-1125-JJJJJ"]
    with pytest.raises(JournalError, match="no name is left"):
        create(tmp_path, DATA, walk, move, Facts(), NOON, lambda size: b"\7" * size)
    assert len(list(walk_ids("LMP", NOON, False, os.urandom))) == 64


def test_walks_and_practice_walks_have_folders_beside_each_other() -> None:
    data = platformdirs.user_data_path("faulttree", appauthor=False)
    assert (default_folder(), default_folder(practice=True)) == (data / "walks", data / "practice")
