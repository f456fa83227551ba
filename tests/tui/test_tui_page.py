"""Pages of walks that have gone some way: with a log, the last look before work, the hand-over, the end."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

import pytest
from test_tui_fit import VARIANTS, check
from tui_runs import (
    FULL,
    LAMP,
    REL,
    WHEEL,
    Canvas,
    begun,
    can,
    ended_at,
    filled,
    gone,
    letters,
    loaded,
    pages_of,
    shown_in,
    ways_on,
)

from faulttree.keys import OFF, ON, Gate, Kind, Move
from faulttree.model import Check, End, Fix
from faulttree.present import done_so_far, fallback_blocks, hand_over_page
from faulttree.present.after import due_block, order_lines, tag_lines
from faulttree.present.blocks import open_lines
from faulttree.present.ends import TITLES, ending
from faulttree.present.resting import resting, resting_blocks
from faulttree.present.wanted import NOT_AVAILABLE
from faulttree.tui import endings
from faulttree.tui.forms import status_forms
from faulttree.tui.keyed import ENTER, keyed
from faulttree.tui.needed import SHOWN_BY
from faulttree.tui.page import blocks_page, so_far_part, walk_page
from faulttree.tui.rows import Row
from faulttree.tui.start import start
from faulttree.value import replace
from faulttree.walk import Walk, apply

NOON = datetime.fromisoformat("2026-11-25T12:00:00+00:00")
SEEDS = range(8)
MORE_SEEDS = range(8, 60)


def times_of(walk: Walk) -> tuple[datetime, ...]:
    """A time for each line of the log: all were made at noon."""
    return (NOON,) * len(walk.log)


def onward(walk: Walk, chance: random.Random) -> Walk | None:
    """The walk after a forward move at random; where it waits for somebody, that person comes."""
    gate = walk.site.gate(walk.key)
    if gate == Gate.OCCUPANT:
        return apply(walk, Move(Kind.OCCUPANT_OFF))
    if gate == Gate.ROLE:
        return apply(walk, Move(Kind.TAKE_OVER, role=walk.site.needs(walk.key).who, occupant=OFF))
    moves = ways_on(walk)
    return apply(walk, filled(walk, chance.choice(moves))) if moves else None


def walked(tree: str, model: str, seed: int) -> Iterator[Walk]:
    """A walk at random from its beginning to its end, at each of its places."""
    chance = random.Random(f"{tree} {model} {seed}")
    role = chance.choice(list(loaded(tree)[0].roles))
    walk: Walk | None = begun(tree, role, chance.choice((ON, OFF, OFF, "")), model)
    while walk is not None:
        yield walk
        walk = None if walk.ended else onward(walk, chance)


def check_all(walk: Walk) -> None:
    """Every page that can be shown where a walk stands."""
    if walk.ended:
        check_end(walk)
        return
    check(walk)
    if resting(walk):
        check_last_look(walk)
    check_hand_over(apply(walk, Move(Kind.HAND_OVER)))


def check_last_look(walk: Walk, canvas: Canvas = FULL) -> None:
    found = resting(walk)
    assert found is not None
    page = endings.last_look(walk, canvas, ())
    on_page = shown_in(page)
    assert len(page) <= canvas.height, walk.key
    for block in resting_blocks(walk, found):
        for line in block.lines if block.kind != "possible" else ():
            assert letters(line) in on_page
    answers = [row.key for row in page if row.key not in ("", "f")]
    assert answers == (["enter", "g"] if found.alone else ["enter"])


def check_end(walk: Walk, canvas: Canvas = FULL) -> None:
    page = endings.end(walk, canvas, times_of(walk), ())
    on_page = shown_in(page)
    assert len(page) <= canvas.height, walk.key
    for block in ending(walk, False):
        if block.kind not in ("code", "watch", "open"):
            for line in block.lines:
                # What the draft has no room for is named with the key that shows it.
                assert letters(line) in on_page or (block.kind == "draft" and letters("key e.") in on_page)
    for name in walk.key.open_items:
        words = name.replace("-", " "), walk.library.open_items[name].text
        assert any(letters(each) in on_page for each in words)
    titles = "; ".join(line.partition(":")[0] for line in order_lines(walk))
    for line in order_lines(walk):
        # Where nothing else can give way, the page says which lists of parts the key shows.
        assert letters(line) in on_page or letters(f"Parts: {titles} (key e).") in on_page


def check_hand_over(walk: Walk, canvas: Canvas = FULL) -> None:
    """It is as long as it needs to be, and scrolls; nothing of it is left out."""
    on_page = shown_in(endings.hand_over(walk, canvas, times_of(walk), ()))
    for block in hand_over_page(walk):
        for line in block.lines:
            assert letters(line) in on_page


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_pages_of_walks_fit(tree: str, model: str) -> None:
    for seed in SEEDS:
        for walk in walked(tree, model, seed):
            check_all(walk)


@pytest.mark.long
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_pages_of_more_walks_fit(tree: str, model: str) -> None:
    for seed in MORE_SEEDS:
        for walk in walked(tree, model, seed):
            check_all(walk)


# -- ends


def ends_of(tree: str, model: str) -> list[Walk]:
    """For each end and each fix of a tree a walk that has ended there."""
    steps = loaded(tree)[1].variants[model].steps
    return [ended_at(tree, model, name) for name, step in steps.items() if isinstance(step, Fix | End)]


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_every_end_fits_and_says_how_it_stands_and_never_more(tree: str, model: str) -> None:
    for walk in ends_of(tree, model):
        check_end(walk)
        check_end(walk, FULL._replace(practice=True))
        title = TITLES[walk.step.kind] if isinstance(walk.step, End) else "FAULT CORRECTED. NOT YET APPROVED"
        text = " ".join(row.text for row in endings.end(walk, FULL, times_of(walk), ()))
        assert title in text
        assert says_nothing_of_safety(text)


def test_the_trees_have_ends_of_many_kinds() -> None:
    """So that the pages above are those of every kind but see another tree and see document, which need no more."""
    kinds = {walk.step.kind for tree, model in VARIANTS for walk in ends_of(tree, model) if isinstance(walk.step, End)}
    assert kinds >= {"out of service", "deferred", "hand over"}


def says_nothing_of_safety(text: str) -> bool:
    """Nothing is called available, serviceable, airworthy, safe or OK."""
    words = {word.strip(".,;:()").lower() for word in text.replace("NOT AVAILABLE", "").split()}
    return not words & {"available", "serviceable", "airworthy", "safe", "ok", "okay"}


def test_a_deferral_that_ended_names_its_document_and_until_when() -> None:
    end = ended_at(WHEEL, "Alder", "deferred-flat")
    text = " ".join(row.text for row in endings.end(end, FULL, times_of(end), ()))
    assert "Under: " in text
    assert "Until: " in text


def test_what_has_to_cure_stands_on_the_end_with_its_time() -> None:
    """Each wait of the log counts from noon, and is said with its time in UTC."""
    found = 0
    for walk in ends_of(REL, loaded(REL)[1].models[0]):
        due = due_block(walk, times_of(walk)).lines
        found += len(due)
        on_page = shown_in(endings.end(walk, FULL, times_of(walk), ()))
        assert all(letters(line) in on_page for line in due)
        assert all(line.startswith("NOT BEFORE 2026-11-25 1") for line in due)
    assert found


# -- told things, practice, notes


def handed_over(walk: Walk, canvas: Canvas, told: tuple[str, ...]) -> tuple[Row, ...]:
    after = apply(walk, Move(Kind.HAND_OVER))
    return endings.hand_over(after, canvas, times_of(after), told)


def passed_lamp() -> Walk:
    """The flat cell of the sample, to the end."""
    walk = begun(LAMP, "repairer", model="Finch")
    return gone(
        walk,
        Move(Kind.ACKNOWLEDGE),
        Move(Kind.FINDING, label="Lights"),
        Move(Kind.READING, value="1 V"),
        Move(Kind.DONE),
        Move(Kind.PASSED),
    )


@pytest.mark.parametrize("practice", [False, True])
def test_practice_stands_on_every_page(practice: bool) -> None:
    canvas = FULL._replace(practice=practice)
    walk = begun(LAMP, "repairer", model="Finch")
    at_work = gone(walk, Move(Kind.ACKNOWLEDGE))
    pages: list[tuple[Row, ...]] = [
        *pages_of(walk, canvas),
        *pages_of(at_work, canvas),
        handed_over(walk, canvas, ()),
        endings.end(passed_lamp(), canvas, times_of(passed_lamp()), ()),
    ]
    for page in pages:
        assert ("PRACTICE." in " ".join(row.text for row in page)) == practice


def test_what_has_to_be_said_stands_first_on_every_page() -> None:
    told = ("The tree has changed.",)
    walk = gone(begun(LAMP, "repairer", model="Finch"), Move(Kind.ACKNOWLEDGE))
    end = passed_lamp()
    for page in (
        walk_page(walk, FULL, told),
        handed_over(walk, FULL, told),
        endings.end(end, FULL, times_of(end), told),
    ):
        assert page[0].text == told[0]


def test_where_nothing_was_found_yet_a_page_does_not_say_that_nothing_was_done() -> None:
    """A line of the fallback that worked stands in the log, and the page has no room for its words."""
    walk = gone(begun(REL, occupant=ON), Move(Kind.FALLBACK, line=2))
    [row] = so_far_part(walk, FULL).forms[-2]
    assert row.text == "In the log: 1 (key l)."


def test_the_keys_of_a_page_are_those_of_its_answers() -> None:
    """Digits are findings or results, a acknowledges, Enter says that it is done: no key means two of the three."""
    meaning: dict[str, set[str]] = {}
    for tree, model in VARIANTS:
        for walk in (walk for seed in SEEDS for walk in walked(tree, model, seed) if not walk.ended):
            answers = keyed(walk)
            keys = [each.key for each in answers]
            assert len(set(keys)) == len(keys), walk.key
            for each in answers:
                meaning.setdefault("digit" if each.key.isdigit() else each.key, set()).add(each.choice.move.kind)
    assert meaning["a"] == {Kind.ACKNOWLEDGE}
    assert meaning[ENTER] <= {Kind.PEOPLE_HERE, Kind.DONE, Kind.WAITED}
    results = {Kind.FINDING, Kind.PASSED, Kind.FAILED, Kind.CLOSED, Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON}
    assert meaning["digit"] <= results
    assert {Kind.FINDING, Kind.PASSED, Kind.FAILED} <= meaning["digit"]


def test_findings_keep_the_numbers_of_the_file() -> None:
    for tree, model in VARIANTS:
        for walk in walked(tree, model, 1):
            if isinstance(walk.step, Check):
                findings = {each.key: each.choice.words for each in keyed(walk) if each.choice.move.kind == "finding"}
                assert findings == {} or findings == {str(each.number): each.label for each in walk.step.findings}


# -- pages beside the walk


def every_place(limit: int = 2) -> Iterator[Walk]:
    for tree, model in VARIANTS:
        for seed in range(limit):
            yield from walked(tree, model, seed)


def test_wanted_now_says_not_available_and_what_is_open_at_every_place() -> None:
    for walk in every_place():
        blocks = list(endings.wanted(walk, times_of(walk)))
        text = " ".join(line for block in blocks for line in block.lines)
        assert text.startswith(NOT_AVAILABLE)
        assert all(line in text for line in (*open_lines(walk), *tag_lines(walk)))
        assert says_nothing_of_safety(text)
        assert len(blocks_page(blocks, FULL)) <= FULL.height


def test_the_fallback_fits_with_its_question() -> None:
    for tree, model in VARIANTS:
        walk = begun(tree, occupant=ON, model=model)
        if can(walk, Kind.FALLBACK):
            # In practice one row says so; what Enter means is said where there is room, and by the row of keys.
            rows = blocks_page(fallback_blocks(walk), FULL.less(1))
            assert len(rows) <= FULL.height - 1, (tree, model)
            assert all(letters(line.do) in shown_in(rows) for line in walk.tree.fallback)


def test_the_page_as_text_has_every_line_of_its_blocks() -> None:
    for walk in every_place(1):
        text = endings.as_text(walk, False, times_of(walk))
        lines = text.splitlines()
        assert all(line in lines for line in done_so_far(walk).lines)
        assert all(line in lines for line in open_lines(walk))
        if walk.ended:
            assert all(line in lines for line in due_block(walk, times_of(walk)).lines)


def test_a_page_is_never_written_over_a_file(tmp_path) -> None:
    target = tmp_path / "page.txt"
    assert endings.save_text(str(target), "one") == target.resolve()
    with pytest.raises(Exception, match="is there already"):
        endings.save_text(str(target), "two")
    assert target.read_text(encoding="utf-8") == "one"
    for wrong in (str(tmp_path), str(tmp_path / "no" / "folder.txt"), "a\0b", "", "~nobody-of-that-name/x"):
        with pytest.raises(Exception, match=r"cannot be written|is there already|no file was named|nobody known"):
            endings.save_text(wrong, "x")


# -- what is written in letters that take two cells

WIDE_LETTERS = "車輪" * 4


def in_wide_letters() -> Walk:
    """A walk of a library whose urgency and symptom are written in letters of two cells."""
    walk = begun(WHEEL, "mechanic", OFF)
    urgencies = {walk.tree.urgency: " ".join([f"{WIDE_LETTERS}."] * 5)}
    library = replace(walk.library, urgencies=urgencies)
    return replace(walk, tree=replace(walk.tree, symptom=WIDE_LETTERS), site=replace(walk.site, library=library))


@pytest.mark.parametrize("width", [40, 44, 60, 70, 80, 88, 89, 120])
def test_the_urgency_in_one_row_ends_with_the_last_sentence_that_has_room(width: int) -> None:
    page = start(in_wide_letters(), Canvas(width, 12))
    shown = next(row.text for row in page if row.text.count(f"{WIDE_LETTERS}.") and "DRAFT" not in row.text)
    # A sentence takes 17 cells and a blank.
    fit = (width - len(SHOWN_BY)) // 18
    assert shown == " ".join([f"{WIDE_LETTERS}."] * 5 if width >= 89 else [*[f"{WIDE_LETTERS}."] * fit, SHOWN_BY])


@pytest.mark.parametrize(("width", "first"), [(28, f"{WIDE_LETTERS}."), (29, "車輪車輪車.. DRAFT r1. Alder.")])
def test_what_a_tree_is_worth_stands_beside_the_symptom_where_enough_cells_of_it_are_left(width, first) -> None:
    """``DRAFT r1. Alder.`` takes 16 cells and a blank; of the symptom 12 cells must be left."""
    assert status_forms(in_wide_letters(), Canvas(width, 23))[1][0].text == first
