"""Mending how files look: what changes, that it means the same, that comments stay, that it is done once."""

from __future__ import annotations

import random
import shutil
from itertools import pairwise
from pathlib import Path

import pytest
import yaml
from shipped import SAMPLE

from faulttree.digest import tree_digest
from faulttree.library import LoadedLibrary, load_library
from faulttree.load import edit
from faulttree.load.nodes import Table
from faulttree.load.parse import load
from faulttree.mending import Mended, mend

LAMP = "lamp-does-not-light.yaml"
FOLDERS = (SAMPLE, SAMPLE.parents[1] / "trees")


def loaded_with(folder: Path, *changes: tuple[str, str], file: str = LAMP) -> LoadedLibrary:
    shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
    text = (folder / file).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / file).write_text(text, encoding="utf-8")
    return load_library(folder)


def mended(loaded: LoadedLibrary, file: str = LAMP) -> Mended:
    return mend(loaded, next(each for each in loaded.files.values() if each.path.name == file))


ORIGINAL = (SAMPLE / LAMP).read_text(encoding="utf-8")


def test_what_is_in_order_is_left(tmp_path: Path) -> None:
    loaded = loaded_with(tmp_path)
    assert not any(mend(loaded, file).is_changed for file in loaded.files.values())


NOTICES = "    notices: [hot-lens, wrong-cell]\n"
IN_LINES = "    notices:\n      # it burns\n      - hot-lens\n      - wrong-cell     # it leaks\n"
CHECK = "    check: Does the switch click?\n"
SURE = "    sure: 0.8                        # a matter of feel: read right 8 times in 10\n"
SYMPTOM = "symptom: The lamp does not light\n"
ALSO = "also:\n  - lamp is dead\n  - no light\n"
SOON = "urgency: soon\n"


@pytest.mark.parametrize(
    ("kind", "place", "right", "wrong"),
    [
        ("blanks at ends of lines", SOON, SOON, "urgency: soon  \n"),
        ("blanks at ends of lines", SOON, f"{SOON}\n", f"{SOON}   \n"),
        ("quotes", "  - no light\n", '  - "no"\n', "  - no\n"),
        ("quotes", "  - no light\n", '  - "A: b"\n', "  - 'A: b'\n"),
        ("order of keys", CHECK + SURE, CHECK + SURE, SURE + CHECK),
        ("order of keys", CHECK, f"{CHECK}    # so sure\n    x-a: b\n", f"    # so sure\n    x-a: b\n{CHECK}"),
        ("order of keys", SYMPTOM + ALSO, SYMPTOM + ALSO, ALSO + SYMPTOM),
        ("order of notices", NOTICES, NOTICES, "    notices: [wrong-cell, hot-lens]\n"),
        (
            "order of notices",
            NOTICES,
            IN_LINES,
            "    notices:\n      - wrong-cell     # it leaks\n      # it burns\n      - hot-lens\n",
        ),
    ],
)
def test_each_kind_of_change(kind: str, place: str, right: str, wrong: str, tmp_path: Path) -> None:
    """What was made wrong is put right again, byte for byte, and nothing else is changed."""
    loaded = loaded_with(tmp_path, (place, wrong))
    got = mended(loaded)
    assert (got.done, got.refused) == ((kind,), ())
    assert got.after == ORIGINAL.replace(place, right, 1)


def test_a_section_moves_with_its_comments(tmp_path: Path) -> None:
    """Causes before the header go behind it; what stands over them goes along, what heads the file stays."""
    start = ORIGINAL.index("causes:")
    steps = ORIGINAL.index("start:")
    causes = "# all we know of\n" + ORIGINAL[start:steps].rstrip() + "\n"
    text = ORIGINAL[:start] + ORIGINAL[steps:]
    text = text.replace("urgency: soon\n", causes + "urgency: soon\n", 1)
    loaded = loaded_with(tmp_path, (ORIGINAL, text))
    got = mended(loaded)
    assert got.done == ("order of keys",)
    assert got.after.startswith(ORIGINAL.split("\n")[0])
    assert "# all we know of\ncauses:" in got.after
    root = load(got.after.encode(), LAMP).root
    names = list(root.entries)  # type: ignore[union-attr]
    assert names.index("causes") == names.index("start") - 1


def test_texts_of_several_lines_are_left(tmp_path: Path) -> None:
    """Blanks at the ends of lines inside a text are the author's."""
    text = "faulttree: 1  \nnote: |\n  a  \n  b\nother: 'c  \n  d'\nlast: e  \n\n\n"
    root = load(text.encode(), "a.yaml").root
    assert root
    expected = "faulttree: 1\nnote: |\n  a  \n  b\nother: 'c  \n  d'\nlast: e\n"
    assert edit.without_trailing_blanks(text, root) == expected


def test_line_ends_of_windows_stay() -> None:
    text = "a: b  \r\nc: d"
    root = load(text.encode(), "a.yaml").root
    assert root
    assert edit.without_trailing_blanks(text, root) == "a: b\r\nc: d\r\n"


def test_the_formats_own_keys_stay() -> None:
    text = "occupant:\n  off: Patient off\nlabel: Off\nx-own: {a: on}\n"
    root = load(text.encode(), "library.yaml").root
    assert root
    assert edit.with_quotes(text, root, "library") == text.replace("label: Off", 'label: "Off"')


def test_a_file_with_errors_is_left(tmp_path: Path) -> None:
    loaded = loaded_with(tmp_path, ("minutes: 1\n", "minutes: one  \n"))
    got = mended(loaded)
    assert (got.is_changed, got.refused) == (False, ("it has errors",))


def test_a_release_still_stands_or_nothing_is_done(tmp_path: Path) -> None:
    """The order of notices is in the digest of a release; other changes are not."""
    wrong = ("    notices: [hot-lens, wrong-cell]", "    notices: [wrong-cell, hot-lens]")
    loaded = loaded_with(tmp_path, wrong, ("urgency: soon\n", "urgency: soon   \n"))
    assert loaded.library
    digest = tree_digest(next(iter(loaded.trees.values())), loaded.library)
    text = (tmp_path / LAMP).read_text(encoding="utf-8")
    released = f"status: released\nreleased: {{by: B. Ward, date: 2026-11-21, digest: {digest}}}\n"
    lines = [released.rstrip() if line.startswith("status:") else line for line in text.split("\n")]
    (tmp_path / LAMP).write_text("\n".join(lines), encoding="utf-8")
    got = mended(load_library(tmp_path))
    assert got.done == ("blanks at ends of lines",)
    assert got.refused == ("order of notices: its release would not stand any more",)


def test_shared_entries_of_a_release_too(tmp_path: Path) -> None:
    """The release of a tree may hang on the order of notices of an access."""
    access = "lamp-open: {"
    loaded = loaded_with(tmp_path, (access, f"{access}notices: [wrong-cell, hot-lens], "), file="library.yaml")
    assert mended(loaded, "library.yaml").done == ("order of notices",)
    assert loaded.library
    digest = tree_digest(next(iter(loaded.trees.values())), loaded.library)
    released = f"status: released\nreleased: {{by: B. Ward, date: 2026-11-21, digest: {digest}}}\n"
    lines = [released.rstrip() if line.startswith("status:") else line for line in ORIGINAL.split("\n")]
    (tmp_path / LAMP).write_text("\n".join(lines), encoding="utf-8")
    got = mended(load_library(tmp_path), "library.yaml")
    assert got.done == ()
    assert "would not stand any more" in got.refused[0]


# -- damage at random


def damaged(text: str, chance: random.Random) -> str:
    """The same file written worse: blanks at ends, sections in another order."""
    root = load(text.encode(), LAMP).root
    assert isinstance(root, Table)
    starts = [entry.key.span.line - 1 for entry in root.entries.values()]
    lines = [line + chance.choice(("", "", "  ")) for line in text.rstrip("\n").split("\n")]
    pieces = [lines[start:end] for start, end in pairwise([*starts, len(lines)])]
    chance.shuffle(pieces)
    moved = [*lines[: starts[0]], *(line for piece in pieces for line in piece)]
    return "\n".join(moved) + chance.choice(("", "\n\n"))


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda each: each.name)
@pytest.mark.parametrize("seed", range(4))
def test_meaning_and_comments_stay(folder: Path, seed: int, tmp_path: Path) -> None:
    """Digest, comments and, by another reader, the data are what they were; and once is enough."""
    shutil.copytree(folder, tmp_path, dirs_exist_ok=True)
    chance = random.Random(seed)
    for path in tmp_path.glob("*.yaml"):
        path.write_text(damaged(path.read_text(encoding="utf-8"), chance), encoding="utf-8")
    before = load_library(tmp_path)
    assert before.library
    kinds = set()
    for file in before.files.values():
        got = mend(before, file)
        kinds.update(got.done)
        assert got.refused == ()
        assert sorted(comments(file.text)) == sorted(comments(got.after))
        assert plain(file.text) == plain(got.after)
        file.path.write_text(got.after, encoding="utf-8")
    assert kinds
    after = load_library(tmp_path)
    assert after.library
    for id, tree in after.trees.items():
        if "order of notices" not in kinds:
            assert tree_digest(tree, after.library) == tree_digest(before.trees[id], before.library)
    assert not any(mend(after, file).is_changed for file in after.files.values())


def comments(text: str) -> list[str]:
    """The comments by the scanner of another reader: what is in the text and in none of its tokens."""
    found, at = [], 0
    for token in yaml.scan(text):
        gap = text[at : token.start_mark.index]
        found += [line.strip() for line in gap.split("\n") if line.strip().startswith("#")]
        at = max(at, token.end_mark.index)
    return [each for each in found if each]


def plain(text: str) -> object:
    """The data by another reader, with lists of notices sorted; texts as they are written."""

    def sort(value: object, name: str = "") -> object:
        if isinstance(value, dict):
            return {key: sort(each, key) for key, each in value.items()}
        if isinstance(value, list):
            return sorted(value) if name == "notices" else [sort(each) for each in value]
        return value

    return sort(yaml.load(text, Loader=yaml.BaseLoader))
