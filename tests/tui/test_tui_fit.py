"""Every step of the shipped trees fits a usual terminal, and what decides is on its page in full.

A usual terminal has 80 columns and 24 rows, of which one is the row of keys. All keys that forward moves lead to are
looked at, for each role and occupant state; a few of them in every run, all of them in the runs that take longer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from shipped import shipped
from tui_runs import FULL, LAMP, Canvas, forward_keys, letters, loaded, pages_of, shown_in, variants_of, walk_at

from faulttree.explore import explore
from faulttree.graph import graph_of
from faulttree.keys import Gate, Key, Stage
from faulttree.model import Fix, Notice
from faulttree.present import screen, start_page
from faulttree.present.after import duration_words
from faulttree.present.blocks import notice_block, open_items, open_lines, sees_figures, sentence
from faulttree.present.start import list_is_shown, people_needed, things_needed
from faulttree.present.step import TYPE_READING
from faulttree.tui.keyed import keyed
from faulttree.tui.page import walk_page
from faulttree.tui.rows import Row
from faulttree.tui.screens.whole import ENDLESS
from faulttree.tui.start import start
from faulttree.walk import Walk

EVERYWHERE = (*shipped().trees, LAMP)
VARIANTS = [(tree, variant.model) for tree in EVERYWHERE for variant in variants_of(tree)]
EVERY = 23
"""Of the keys, in the order they are found, every so many are looked at in the quick runs."""

IN_FULL = ("title", "gate", "question", "access", "how")


def open_keys(tree: str, model: str) -> list[Key]:
    """The keys at which a walk goes on."""
    return [key for key in forward_keys(tree, model) if key.phase.stage != Stage.ENDED]


def walks(tree: str, model: str, every: int = 1) -> Iterator[Walk]:
    return (walk_at(tree, key) for key in open_keys(tree, model)[::every])


# -- what has to be on a page


def decisive(walk: Walk) -> Iterator[str]:
    """The texts that decide at a walk's step or gate, each of which a page never cuts."""
    for block in screen(walk):
        if block.kind in IN_FULL:
            yield from map(unnumbered, block.lines)
        elif block.kind == "tick":
            yield from (line for line in block.lines if line.startswith("NEXT: "))
        elif block.kind == "needs":
            yield from (line for line in block.lines if line.startswith(("Torque", "Lift")))
        elif block.kind == "measure":
            yield from (line for line in block.lines if not line.startswith(TYPE_READING))
    yield from answers(walk)


def unnumbered(line: str) -> str:
    """A line that has a number in line mode and a dash here: a number would look like the digit of an answer."""
    return re.sub(r"^\d+\. ", "", line)


def patients_line(line: str) -> str:
    """The line that stands first for the patient: its first sentence, and where the fallback is."""
    return f"{line.split('. ')[0]}. Cannot wait: key f."


def answers(walk: Walk) -> Iterator[str]:
    """Each answer as it stands on the page: its key, its words and what they mean."""
    for each in keyed(walk):
        says = f" - {sentence(each.choice.says)}" if each.choice.says else ""
        yield f"{each.label} {each.choice.words}{says}"


def limits(walk: Walk) -> Iterator[tuple[str, str]]:
    """Each limit of the work as it stands in full, and by what it is set to alone."""
    for block in screen(walk):
        for line in block.lines if block.kind == "needs" else ():
            if line.startswith("Limit, "):
                name, found, setting = line.partition("New or set: ")
                short = name.partition(":")[0].removeprefix("Limit, ")
                yield line, f"Limit (key e), {short}: set {setting}" if found else line


def missing(walk: Walk, page: tuple[Row, ...]) -> list[str]:
    """What decides and is not on the page in full."""
    on_page = shown_in(page)
    lost = [text for text in decisive(walk) if letters(text) not in on_page]
    lost += [full for full, short in limits(walk) if letters(full) not in on_page and letters(short) not in on_page]
    for name in walk.key.open_items:
        words = name.replace("-", " "), walk.library.open_items[name].text
        lost += [] if any(letters(each) in on_page for each in words) else [name]
    return lost


def check_page(walk: Walk, canvas: Canvas) -> None:
    [page] = pages_of(walk, canvas)
    assert len(page) <= canvas.height, walk.key
    assert not missing(walk, page), walk.key


def check_warnings(walk: Walk, canvas: Canvas) -> None:
    """Each new warning stands in full on one of the pages, in its order, and each page is acknowledged."""
    pages = pages_of(walk, canvas)
    notices = walk.site.pending(walk.key)
    on_pages = [shown_in(page) for page in pages]
    for page in pages:
        assert len(page) <= canvas.height, walk.key
        assert [row.text.split()[0] for row in page if row.key not in ("", "f")][:1] == ["a"], walk.key
        assert {row.key for row in page} <= {"", "f", "a"}, "nothing else is answered before they are read"
    places = []
    for notice in notices:
        full = letters(" ".join(notice_block(notice).lines))
        places.append(next(at for at, text in enumerate(on_pages) if full in text))
    assert places == sorted(places)
    assert set(places) == set(range(len(pages))), "no page without a warning"


def check(walk: Walk, canvas: Canvas = FULL) -> None:
    if walk.site.gate(walk.key) == Gate.WARNINGS:
        check_warnings(walk, canvas)
    else:
        check_page(walk, canvas)


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_some_keys_fit_with_all_that_decides(tree: str, model: str) -> None:
    for walk in walks(tree, model, EVERY):
        check(walk)


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_no_two_answers_of_a_page_have_one_key(tree: str, model: str) -> None:
    for walk in walks(tree, model, EVERY):
        for page in (*pages_of(walk), start(walk, FULL)):
            labels = [row.pieces[0][0].strip() for row in page if row.pieces and row.pieces[0][1] == "key"]
            printed = [label for label in labels if label]
            assert printed
            assert len(printed) == len(set(printed)), walk.key


def unmarked(walk: Walk) -> list[str]:
    """Tools, documents, parts and what was done that are neither on the page nor said to be left out."""
    [page] = pages_of(walk)
    on_page = shown_in(page)
    if sum(row.hidden for row in page) or "(keye)" in on_page:
        return []
    said = [line for block in screen(walk) if block.kind in ("aids", "needs", "note") for line in block.lines]
    return [line for line in said if letters(line) not in on_page]


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_what_a_page_leaves_out_has_a_mark(tree: str, model: str) -> None:
    for walk in walks(tree, model, EVERY):
        if walk.site.gate(walk.key) is None:
            assert not unmarked(walk), walk.key


def test_the_densest_page_says_how_much_it_leaves_out() -> None:
    """Where a tree has little room left, tools and documents went without a word."""
    dense = [walk for tree, model in VARIANTS for walk in walks(tree, model, 7) if walk.site.gate(walk.key) is None]
    pages = [(walk, page) for walk in dense for page in pages_of(walk, FULL.less(3)) if page[-1].hidden]
    assert pages
    for walk, page in pages:
        whole = pages_of(walk, Canvas(80, ENDLESS))[0]
        assert 0 < page[-1].hidden < len(whole)
        assert not any(row.hidden for row in whole)


@pytest.mark.long
@pytest.mark.parametrize("part", range(4))
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_every_key_fits_with_all_that_decides(tree: str, model: str, part: int) -> None:
    """In four parts, so that several processes can share them."""
    for key in open_keys(tree, model)[part::4]:
        check(walk_at(tree, key))


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_practice_fits_too(tree: str, model: str) -> None:
    for walk in walks(tree, model, 3 * EVERY):
        check(walk, FULL._replace(practice=True))


@pytest.mark.long
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_these_are_the_keys_that_exploring_visits(tree: str, model: str) -> None:
    library, whole = loaded(tree)
    variant = whole.variants[model]
    assert len(forward_keys(tree, model)) == explore(library, variant, graph_of(variant)).keys


def test_the_quick_sample_meets_every_gate_and_stage() -> None:
    """Otherwise a page that does not fit could be met only in the long runs."""
    met = [walk for tree, model in VARIANTS for walk in walks(tree, model, EVERY)]
    assert {walk.site.gate(walk.key) for walk in met} == {None, *Gate}
    stages = {key.phase.stage for tree, model in VARIANTS for key in open_keys(tree, model)}
    assert {walk.key.phase.stage for walk in met} == stages


# -- the page before the first step


def starts(tree: str, model: str) -> list[Walk]:
    """One walk for each role and occupant state."""
    seen = {(key.role, key.occupant): key for key in reversed(forward_keys(tree, model))}
    site = walk_at(tree, next(iter(seen.values()))).site
    return [walk_at(tree, site.begin(role, occupant)) for role, occupant in seen]


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_start_pages_fit_with_every_first_action(tree: str, model: str) -> None:
    for walk in starts(tree, model):
        page = start(walk, FULL)
        on_page = shown_in(page)
        assert len(page) <= FULL.height, walk.key
        for action in walk.tree.first_actions:
            assert letters(sentence(action.do)) in on_page
            for notice in walk.site.notices(action.notices):
                text = notice.text[0] if notice.signal == "note" else notice.hazard
                assert letters(f"{notice.signal.upper()}: {text}") in on_page
        for line in walk.tree.before:
            assert letters(line) in on_page
        assert {row.key for row in page} - {""} in ({"enter"}, {"enter", "f"})


# -- smaller windows: nothing is lost, the page scrolls


def blocks_text(walk: Walk) -> Iterator[str]:
    """Every line of the blocks of now; answers and the hints to type by their screen forms."""
    for block in screen(walk):
        if block.kind in ("choice", "hurry"):
            continue
        if block.kind == "first":
            yield from map(patients_line, block.lines)
            continue
        if block.kind == "how":
            yield from map(unnumbered, block.lines)
            continue
        yield from (line for line in block.lines if not line.startswith(TYPE_READING))
        yield from (line.removeprefix("Type ") for line in block.lines if line.startswith(TYPE_READING))
    yield from answers(walk)


SMALL = (40, 19), (20, 7)


@pytest.mark.parametrize("size", SMALL)
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_in_a_small_window_the_whole_page_has_every_letter(tree: str, model: str, size: tuple[int, int]) -> None:
    canvas = Canvas(*size)
    for walk in walks(tree, model, EVERY):
        if walk.site.gate(walk.key) == Gate.WARNINGS:
            continue
        page = walk_page(walk, canvas._replace(height=ENDLESS))
        on_page = shown_in(page)
        assert all(len(row.text) <= canvas.width for row in page)
        for text in blocks_text(walk):
            assert letters(text) in on_page, walk.key


@pytest.mark.parametrize("size", SMALL)
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_in_a_small_window_the_page_itself_has_all_that_decides(tree: str, model: str, size: tuple[int, int]) -> None:
    canvas = Canvas(*size)
    for walk in walks(tree, model, EVERY):
        if walk.site.gate(walk.key) == Gate.WARNINGS:
            for notice in walk.site.pending(walk.key):
                full = letters(" ".join(notice_block(notice).lines))
                assert any(full in shown_in(page) for page in pages_of(walk, canvas))
            continue
        [page] = pages_of(walk, canvas)
        on_page = shown_in(page)
        assert not [text for text in decisive(walk) if letters(text) not in on_page], walk.key


@pytest.mark.parametrize("size", SMALL)
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_in_a_small_window_the_whole_start_page_has_every_letter(tree: str, model: str, size: tuple[int, int]) -> None:
    for walk in starts(tree, model):
        on_page = shown_in(start(walk, Canvas(size[0], ENDLESS)))
        for block in start_page(walk):
            for line in block.lines if block.kind != "hurry" else ():
                said = patients_line(line) if block.kind == "first" else unnumbered(line)
                assert letters(said) in on_page, said


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_more_height_never_only_loses(tree: str, model: str) -> None:
    """From the height on that holds the page: a row that is lost made room for one that is more important."""
    for walk in walks(tree, model, 4 * EVERY):
        if walk.site.gate(walk.key) == Gate.WARNINGS:
            continue
        before: set[str] = set()
        for height in range(6, 40):
            page = walk_page(walk, FULL._replace(height=height))
            rows = {row.text for row in page if row.text} if len(page) <= height else set()
            assert rows - before or not before - rows, (walk.key, height)
            before = rows


def test_open_items_stand_on_every_page() -> None:
    """With everything open that the library knows, each item is named."""
    for tree in EVERYWHERE:
        [first, *_] = [walk for model in [variants_of(tree)[0].model] for walk in starts(tree, model)]
        key = first.key._replace(open_items=frozenset(first.library.open_items), role=list(first.library.roles)[1])
        walk = walk_at(tree, key)
        on_page = shown_in(pages_of(walk, Canvas(80, 60))[0])
        assert all(letters(line) in on_page for line in open_lines(walk))


def test_a_hazard_stands_in_full_on_nearly_every_page_and_else_by_its_signal_word() -> None:
    """Only the densest pages name it."""
    met, named = 0, 0
    for tree, model in VARIANTS:
        for walk in walks(tree, model, 5):
            hazards = [item for item in open_items(walk) if item.kind == "hazard"]
            if not hazards:
                continue
            on_page = shown_in(pages_of(walk)[0])
            met += 1
            if not all(letters(f"OPEN (hazard): {sentence(item.text)}") in on_page for item in hazards):
                named += 1
                assert letters(f"HAZARD {hazards[0].id.replace('-', ' ')}") in on_page, walk.key
    assert met > 100
    assert named * 10 < met, (named, met)


# -- what may be shortened keeps a mark


def is_counted(count: int, page: tuple[Row, ...]) -> bool:
    """Whether a row says how many parts there are and by which key they are shown."""
    return any(row.text.startswith(f"Parts: {count}.") and "(key e)" in row.text for row in page)


def check_parts(walk: Walk) -> None:
    """A page of work has its part numbers and how long what cures takes, or a row that says how many and the key."""
    step = walk.step
    assert isinstance(step, Fix)
    [page] = pages_of(walk)
    on_page = shown_in(page)
    if step.parts and not is_counted(len(step.parts), page):
        assert all(letters(name) in on_page for name in step.parts), walk.key
    services = [walk.library.consumables[name].service for name in step.consumables]
    if any(services):
        times = [letters(f"({duration_words(each)} before use)") in on_page for each in services if each]
        longest = letters(f"Uses: {len(services)}, up to {duration_words(max(services))} before use (key e)")
        assert all(times) or longest in on_page, walk.key


def fix_pages(tree: str, model: str) -> Iterator[Walk]:
    """Every key of the work of a fix, for those who see parts."""
    for key in open_keys(tree, model):
        walk = walk_at(tree, key)
        at_work = key.phase.stage == Stage.DO and walk.site.gate(key) is None
        if isinstance(walk.step, Fix) and at_work and sees_figures(walk):
            yield walk


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_pages_of_work_have_parts_and_times_or_say_how_many(tree: str, model: str) -> None:
    for walk in fix_pages(tree, model):
        check_parts(walk)


def test_most_pages_of_work_have_the_parts_themselves() -> None:
    """The mark is for the densest pages; the sample of all trees has both parts and what cures."""
    walks_met = [walk for tree, model in VARIANTS for walk in fix_pages(tree, model)]
    with_parts = [walk for walk in walks_met if walk.step.parts]  # type: ignore[union-attr]
    counted = [walk for walk in with_parts if is_counted(len(walk.step.parts), pages_of(walk)[0])]  # type: ignore[union-attr]
    assert any(walk.step.consumables for walk in walks_met)  # type: ignore[union-attr]
    assert len(with_parts) > 1000
    assert len(counted) * 20 < len(with_parts)


def read_before(walk: Walk) -> list[Notice]:
    """The notices of the step of now that were acknowledged."""
    if walk.site.gate(walk.key) is not None:
        return []
    return [each for each in walk.site.notices(walk.site.needs(walk.key).notices) if each.needs_acknowledging]


def has_a_row(notice: Notice, page: tuple[Row, ...]) -> bool:
    """Whether a row begins with the signal word of a notice that was read, and then as much of its hazard as fits."""
    begun = re.compile(rf"\W*{notice.signal.upper()}, read(?: before)?: (.{{6,}})")
    found = [match.group(1) for row in page if (match := begun.match(row.text))]
    return any(sentence(notice.hazard).startswith(text.removesuffix("..")) for text in found)


def is_named(notice: Notice, page: tuple[Row, ...]) -> bool:
    """Whether a notice that was read stands on the page by its name."""
    return letters(f"{notice.signal.upper()} {notice.id.replace('-', ' ')}") in shown_in(page)


def test_what_was_read_stands_as_a_line_each_on_nearly_every_page() -> None:
    """The few densest pages name the last of them in a paragraph, or, where even that is too long, count them."""
    met, named = 0, 0
    for tree, model in VARIANTS:
        for walk in walks(tree, model, 5):
            notices = read_before(walk)
            if not notices:
                continue
            [page] = pages_of(walk)
            met += 1
            if not all(has_a_row(each, page) for each in notices):
                named += 1
                counted = letters(f"Read before: {len(notices)} notices, key e.") in shown_in(page)
                assert counted or all(has_a_row(each, page) or is_named(each, page) for each in notices), walk.key
    assert met > 500
    assert named * 20 < met


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_on_a_narrow_page_what_was_read_has_a_row_each(tree: str, model: str) -> None:
    for walk in walks(tree, model, EVERY):
        notices = read_before(walk)
        assert all(has_a_row(each, pages_of(walk, Canvas(40, 19))[0]) for each in notices), walk.key


@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_the_start_page_says_what_may_be_needed(tree: str, model: str) -> None:
    """To whoever sees parts while nobody is on it: people and roles; of things the names, or how many and the key."""
    for walk in starts(tree, model):
        page = start(walk, FULL)
        on_page = shown_in(page)
        if not list_is_shown(walk):
            assert "maybeneeded" not in on_page
            continue
        people, roles = people_needed(walk)
        assert letters(f"{people}. Roles: {', '.join(roles)}.") in on_page, walk.key
        for title, names in things_needed(walk):
            in_full = all(letters(name) in on_page for name in names)
            counted = re.search(rf"{letters(title)},?{len(names)}(?:,|\(keye\))", on_page, re.IGNORECASE)
            assert in_full or counted, (walk.key, title)


STATUS = Canvas(80, 23), Canvas(40, 19), Canvas(40, 11), Canvas(20, 7)


@pytest.mark.parametrize("canvas", STATUS, ids=str)
@pytest.mark.parametrize(("tree", "model"), VARIANTS)
def test_the_status_says_symptom_revision_standing_role_and_occupant(tree: str, model: str, canvas: Canvas) -> None:
    """In every size, in rows that stay while the page is moved; of the symptom as much as there is room for."""
    for walk in walks(tree, model, EVERY):
        for practice in (False, True):
            for page in pages_of(walk, canvas._replace(practice=practice)):
                status = letters("".join(row.text for row in page if row.pieces and row.pieces[0][1] == "status"))
                assert all(row.pinned for row in page if row.pieces and row.pieces[0][1] == "status")
                assert status.startswith(letters(walk.tree.symptom)[:7])
                assert ("DRAFTr" in status) or ("Revision" in status and "DRAFT" in status), walk.key
                assert ("PRACTICE" in status) == practice
                assert walk.key.role in status
                assert walk.tree.alike or walk.key.model in status
                occupant = walk.library.occupant
                assert not occupant or any(letters(each.rstrip(".")) in status for each in (occupant.ask, occupant.off))
