"""The shared files of a library: what they become, what is left to rules, what is reported."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from building import MAIN, library_and_problems, library_of, marked

from faulttree.model import Access, Band, Document, Notice, Occupant, OpenItem, Scale
from faulttree.problems import Problem


def told(problems: list[Problem]) -> list[tuple[str, str, str]]:
    return [(each.file, each.rule, each.message) for each in problems]


# -- roles


def roles(text: str) -> dict[str, frozenset[str]]:
    lines = MAIN.split("\n")
    start = next(index for index, line in enumerate(lines) if line.strip() == "roles:")
    end = next(index for index, line in enumerate(lines) if line.strip().startswith("models:"))
    library = library_of("\n".join([*lines[:start], f"    roles: {text}", *lines[end:]]))
    return {id: role.covers for id, role in library.roles.items()}


def test_a_role_covers_itself_and_what_it_includes_in_turn() -> None:
    assert roles("{a: {may: x}, b: {may: x, includes: [a]}, c: {may: x, includes: [b]}, d: {may: x}}") == {
        "a": {"a"},
        "b": {"a", "b"},
        "c": {"a", "b", "c"},
        "d": {"d"},
    }


def test_roles_that_include_each_other_cover_each_other() -> None:
    text = "{a: {may: x, includes: [c]}, b: {may: x, includes: [a]}, c: {may: x, includes: [b, c]}}"
    assert set(roles(text).values()) == {frozenset("abc")}


def test_the_name_of_a_role_that_is_not_there_is_kept_for_the_rules() -> None:
    assert roles("{a: {may: x, includes: [gone, b]}, b: {may: x}}") == {"a": {"a", "b", "gone"}, "b": {"b"}}


def test_a_chain_of_many_roles_is_followed_to_its_end() -> None:
    names = [f"r{number}" for number in range(1500)]
    chain = [f"{name}: {{may: x, includes: [{after}]}}" for name, after in pairwise(names)]
    covers = roles("{" + ", ".join([*chain, f"{names[-1]}: {{may: x}}"]) + "}")
    assert covers["r0"] == set(names)


def test_the_title_of_a_role_is_what_it_is_else_its_name() -> None:
    library = library_of(MAIN.replace("crew: {may: look}", "crew: {is: Flight crew, may: [look, ask], may_not: mend}"))
    assert (library.roles["crew"].title, library.roles["mechanic"].title) == ("Flight crew", "mechanic")
    assert (library.roles["crew"].may, library.roles["crew"].may_not) == (("look", "ask"), ("mend",))
    assert library.roles["mechanic"].call_out == 20


# -- the rest of library.yaml


def test_all_that_a_library_may_say() -> None:
    more = """
    revision: 4.10
    date: May 2026
    occupant: {ask: Is a patient on it?, off: Patient off, first: Patient first.}
    open_items: {loose: {kind: hazard, is: Loose}, tell: {kind: duty, is: Tell them}}
    documents: {A-1: {title: Manual, revision: C, sections: {"3": Cells, "4.1": Ring}}}
    """
    library = library_of(MAIN.rstrip() + more)
    assert (library.revision, library.date) == ("4.10", "May 2026")
    assert library.occupant == Occupant("Is a patient on it?", "Patient off", "Patient first.")
    assert library.open_items == {
        "loose": OpenItem("loose", "hazard", "Loose"),
        "tell": OpenItem("tell", "duty", "Tell them"),
    }
    assert library.documents == {"A-1": Document("A-1", "Manual", "C", {"3": "Cells", "4.1": "Ring"})}
    assert library.accesses["lid"] == Access("lid", "Lid off", "mechanic", 2, "box", 2, ("sharp", "dust"))
    assert library.accesses["door"] == Access("door", "Door open")


def test_only_library_yaml_must_be_there() -> None:
    library = library_of()
    assert (library.notices, library.limits, library.parts, library.inspection) == ({}, {}, {}, {})
    assert library_and_problems(tools="tools: {}")[0] is not None


def test_mappings_that_hold_only_keys_of_the_author_are_empty_and_reported() -> None:
    """The shape allows them, since `x-` keys are the author's own everywhere."""
    main = MAIN.replace("models: {Finch: one cell, Wren: two cells}", "models: {x-Finch: one cell}")
    library, problems = library_and_problems(main)
    assert library is None
    assert told(problems) == [("library.yaml", "shape-wrong", '"models" has no model')]


def test_there_may_be_nine_models_and_no_more() -> None:
    """A read-back code has one digit for the model."""
    nine = "{Finch: a, " + ", ".join(f"M{number}: b" for number in range(8)) + "}"
    main = MAIN.replace("{Finch: one cell, Wren: two cells}", "{}")
    assert len(library_of(main.replace("models: {}", f"models: {nine}")).models) == 9
    library, problems = library_and_problems(main.replace("models: {}", f"models: {nine[:-1]}, Wren: c}}"))
    assert library is None
    assert [each[:2] for each in told(problems)] == [("library.yaml", "mapping-length")]


# -- notices


def test_notices_and_notes() -> None:
    text = """
        notices:
          hot: {signal: warning, hazard: Heat, result: Burns, avoid: [Wait., Hold it.], every_time: true}
          tip: {signal: note, text: It is heavy.}
    """
    notices = library_of(notices=text).notices
    assert notices["hot"] == Notice("hot", "warning", "Heat", "Burns", ("Wait.", "Hold it."), (), True)
    assert notices["tip"] == Notice("tip", "note", text=("It is heavy.",))
    assert [notice.needs_acknowledging for notice in notices.values()] == [True, False]


# -- limits


def limits(text: str) -> str:
    return f"limits:\n  volts: {{is: Voltage, unit: V, {text}}}\n"


def test_a_limit_for_all_models_has_a_scale_for_each() -> None:
    limit = library_of(limits=limits("range: [0, 9], bands: {Low: {below: 2.5, says: low}, Ok: {up_to: 5}, High: {}}"))
    scale = Scale(0, 9, (Band("Low", 2.5, False, "low"), Band("Ok", 5, True), Band("High", None)))
    assert limit.limits["volts"].scales == {"Finch": scale, "Wren": scale}
    assert [scale.band_of(Decimal(number)) for number in ("2.4", "2.5", "5", "5.1")] == ["Low", "Ok", "Ok", "High"]


@pytest.mark.parametrize(
    "text",
    [
        "range: {Wren: [0, 4]}, bands: {Low: {below: 2}, Ok: {}}, set: 3, data: {A-1: 3}",
        "range: [0, 4], bands: {Low: {below: {Wren: 2}}, Ok: {}}, set: {Wren: 3}, data: {Wren: {A-1: 3}}",
        "range: [0, 4], bands: {Low: {up_to: {Wren: 2}}, Ok: {}}, set: {Finch: 7, Wren: 3}, data: {A-1: 3}",
    ],
)
def test_a_limit_is_for_the_models_that_its_range_and_bands_name(text: str) -> None:
    limit = library_of(limits=limits(text)).limits["volts"]
    assert list(limit.scales) == ["Wren"]
    assert (limit.scales["Wren"].low, limit.scales["Wren"].high) == (0, 4)
    assert limit.settings == {"Wren": "3"}
    assert limit.data == {"Wren": {"A-1": "3"}}


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("range: {Finch: [0, 2], Wren: [0, 4]}, bands: {Low: {below: {Wren: 2}}, Ok: {}}", "below"),
        ("range: {Wren: [0, 4]}, bands: {Low: {up_to: {Finch: 1, Wren: 2}}, Ok: {}}", "range"),
        ("range: [0, 4], bands: {Low: {below: 2, says: {Wren: low}}, Ok: {}}", "says"),
        ("range: [0, 4], bands: {Low: {below: 2}, Ok: {}}, set: {Wren: 3}", "set"),
        ("range: [0, 4], bands: {Low: {below: 2}, Ok: {}}, data: {Wren: {A-1: 3}}", "data"),
    ],
)
def test_a_limit_that_leaves_out_a_model_that_it_has_is_reported(text: str, key: str) -> None:
    library, problems = library_and_problems(limits=limits(text))
    assert library is None
    assert told(problems) == [("limits.yaml", "model-left-out", f'model "Finch" is left out of "{key}"')]
    assert marked("faulttree: 1\n" + limits(text), problems[0]) == key


def test_an_unknown_model_of_a_limit_is_reported() -> None:
    _, problems = library_and_problems(limits=limits("range: {Finch: [0, 2], Wern: [0, 4]}, bands: {Ok: {}}"))
    assert told(problems) == [("limits.yaml", "model-unknown", 'there is no model "Wern"')]
    assert problems[0].help == 'write "Wren"'


# -- parts, operational checks, inspection


def test_the_models_of_parts_and_inspection_items_are_looked_at() -> None:
    parts = "parts: {P-1: {is: Cell, models: [Finch, Wrn]}}"
    inspection = "inspection: {I-1: {every: 1 day, who: crew, look: Whole, models: [Wren], data: {Finch: {A-1: 1}}}}"
    library, problems = library_and_problems(parts=parts, inspection=inspection)
    assert library is None
    assert told(problems) == [
        ("inspection.yaml", "model-left-out", 'model "Wren" is left out of "data"'),
        ("parts.yaml", "model-unknown", 'there is no model "Wrn"'),
    ]


def test_an_operational_check_has_its_minutes_and_data_by_model() -> None:
    text = """
        operational_checks:
          lit: {is: L, do: [On., Off.], ask: Lit?, who: crew, proved: Lit, minutes: {Finch: 1, Wren: 2}, data: {A-1: 3},
            people: 2, tools: [key], notices: [hot], occupied: allowed, limits: [volts]}
    """
    check = library_of(operational_checks=text).operational_checks["lit"]
    assert (check.do, check.ask, check.proved) == (("On.", "Off."), "Lit?", "Lit")
    assert check.minutes == {"Finch": 1, "Wren": 2}
    assert check.data == {"Finch": {"A-1": "3"}, "Wren": {"A-1": "3"}}
    assert (check.people, check.tools, check.notices, check.occupied) == (2, ("key",), ("hot",), True)
    assert check.limits == ("volts",)
    assert (check.do_by_model, check.lines("Finch"), check.lines("Wren")) == ({}, check.do, check.do)


def test_lines_of_an_operational_check_that_differ_are_those_of_the_model() -> None:
    text = "operational_checks: {lit: {is: L, do: {Finch: On., Wren: [On., Off.]}, ask: Lit?, who: crew, proved: L}}"
    check = library_of(operational_checks=text).operational_checks["lit"]
    assert (check.lines("Finch"), check.lines("Wren")) == (("On.",), ("On.", "Off."))
    assert check.do == ()


def test_an_operational_check_that_leaves_out_a_model_is_reported() -> None:
    text = "operational_checks: {lit: {is: L, do: {Finch: On.}, ask: Lit?, who: crew, proved: L}}"
    _, problems = library_and_problems(operational_checks=text)
    assert told(problems) == [("operational-checks.yaml", "model-left-out", 'model "Wren" is left out of "do"')]


def test_parts_consumables_and_tools() -> None:
    parts = "parts: {P-1: {is: Cell, models: [Wren], per_year: 0.5, lead_days: 3, note: n}}\n"
    parts += "consumables: {w: {is: Wipe, service: 2, cure: 60, note: n}}"
    library = library_of(parts=parts, tools="tools: {key: {is: Key, who: crew, note: n}, lens: {is: Lens}}")
    part, consumable, tool = library.parts["P-1"], library.consumables["w"], library.tools["key"]
    assert (part.text, part.models, part.per_year, part.lead_days, part.note) == ("Cell", ("Wren",), 0.5, 3, "n")
    assert (consumable.text, consumable.service, consumable.cure, consumable.note) == ("Wipe", 2, 60, "n")
    assert (tool.text, tool.who, tool.note, library.tools["lens"].who) == ("Key", "crew", "n", "")


def test_inspection_items() -> None:
    text = "inspection: {I-1: {every: 1 day, who: crew, look: Whole, tree: no-light, limit: volts, data: {A-1: 1}}}"
    item = library_of(inspection=text).inspection["I-1"]
    assert (item.every, item.who, item.look, item.tree, item.limit) == ("1 day", "crew", "Whole", "no-light", "volts")
    assert (item.models, item.data) == ((), {"Finch": {"A-1": "1"}, "Wren": {"A-1": "1"}})
    assert item.limits == ("volts",)


def test_an_inspection_item_may_have_several_limits() -> None:
    """One in a list is the same as one without, and means the same to a release that was made before lists."""
    items = {name: f"{{every: 1 day, who: crew, look: Whole, limit: {name}}}" for name in ("volts", "[volts]")}
    one = library_of(inspection=f"inspection: {{I-1: {items['volts']}}}").inspection["I-1"]
    same = library_of(inspection=f"inspection: {{I-1: {items['[volts]']}}}").inspection["I-1"]
    assert one == same
    several = library_of(inspection="inspection: {I-1: {every: 1 day, who: crew, look: W, limit: [volts, amps]}}")
    assert several.inspection["I-1"].limits == ("volts", "amps")
    assert library_of(inspection="inspection: {I-1: {every: 1 day, who: crew, look: W}}").inspection["I-1"].limits == ()
    for wrong in ("[volts, volts]", "[]", "[[volts]]"):
        text = f"inspection: {{I-1: {{every: 1 day, who: crew, look: W, limit: {wrong}}}}}"
        assert library_and_problems(inspection=text)[1], wrong


# -- several files with problems


def test_the_problems_of_all_files_come_in_one_run_in_order() -> None:
    library, problems = library_and_problems(
        tools="tools: {key: {is: Key, whoo: crew}}",
        parts="parts: {P-1: {is: Cell, models: [Wrn]}}",
        limits="limits: {volts: {is: V, unit: V, range: [0], bands: {}}}",
    )
    assert library is None
    assert [each.file for each in problems] == ["limits.yaml", "limits.yaml", "parts.yaml", "tools.yaml"]
    assert problems == sorted(problems, key=Problem.order)


def test_without_a_sound_library_yaml_the_others_are_checked_for_their_shape() -> None:
    library, problems = library_and_problems(MAIN.replace("operator", "operater"), tools="tools: {key: {}}")
    assert library is None
    assert {each.file for each in problems} == {"library.yaml", "tools.yaml"}
