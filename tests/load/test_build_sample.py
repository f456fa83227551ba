"""The sample library is built into the values that its files state, looked up by hand."""

from __future__ import annotations

from decimal import Decimal

from building import SAMPLE

from faulttree.load.build import build_library, build_tree
from faulttree.load.parse import load
from faulttree.load.schema import KINDS, TREE
from faulttree.model import (
    Access,
    Action,
    Band,
    Case,
    Cause,
    Check,
    Consumable,
    Document,
    End,
    Finding,
    Fix,
    InspectionItem,
    Library,
    Notice,
    OpenItem,
    OperationalCheck,
    Part,
    Recheck,
    Role,
    Route,
    Scale,
    SecondInspection,
    Tool,
    Torque,
    Tree,
)

OUT = Route("out-of-use")


def sample_library() -> Library:
    paths = {kind: SAMPLE / f"{kind}.yaml" for kind in KINDS if kind != TREE}
    roots = {kind: load(path.read_bytes(), path.name).root for kind, path in paths.items()}
    library, problems = build_library({kind: root for kind, root in roots.items() if root}, {k: k for k in roots})
    assert problems == []
    assert library is not None
    return library


def sample_tree() -> Tree:
    root = load((SAMPLE / "lamp-does-not-light.yaml").read_bytes(), "lamp").root
    assert root is not None
    tree, problems = build_tree(root, sample_library(), "lamp")
    assert problems == []
    assert tree is not None
    return tree


def check(id: str) -> Check:
    step = sample_tree().variants["Wren"].steps[id]
    assert isinstance(step, Check)
    return step


def fix(id: str) -> Fix:
    step = sample_tree().variants["Finch"].steps[id]
    assert isinstance(step, Fix)
    return step


# -- shared files


def test_the_library_says_who_it_is_for_and_which_models() -> None:
    library = sample_library()
    assert library.operator == "Sample workshop (invented)"
    assert list(library.models.items()) == [("Finch", "lamp Finch, one cell"), ("Wren", "lamp Wren, two cells")]
    assert library.urgencies == {"soon": "Mend before the next shift"}
    assert library.occupant is None
    assert (library.revision, library.date) == ("", "")


def test_roles_keep_their_order_and_what_they_include() -> None:
    library = sample_library()
    assert list(library.roles.values()) == [
        Role("user", "user", ("look and switch",), (), frozenset({"user"})),
        Role("repairer", "repairer", ("open the lamp and replace parts",), (), frozenset({"repairer", "user"}), 30),
    ]
    assert library.first_role == "user"


def test_accesses_open_items_and_documents() -> None:
    library = sample_library()
    assert library.accesses == {"lamp-open": Access("lamp-open", "Head ring off", "repairer", 2, "lamp")}
    assert library.open_items == {"cell-out": OpenItem("cell-out", "disturbance", "Cell lies outside the lamp")}
    assert library.documents == {"LAMP-01": Document("LAMP-01", "Hand lamp instructions", "B")}


def test_notices() -> None:
    assert sample_library().notices == {
        "hot-lens": Notice(
            "hot-lens",
            "warning",
            hazard="The lens gets hot in use",
            result="It burns fingers",
            avoid=("Let the lamp cool for two minutes. Hold it by the handle.",),
            every_time=True,
        ),
        "wrong-cell": Notice(
            "wrong-cell",
            "caution",
            hazard="A cell of another type",
            result="It leaks and spoils the contacts",
            avoid=("Fit only the type printed in the cap.",),
        ),
    }


def test_the_limit_has_a_scale_for_each_model() -> None:
    limit = sample_library().limits["cell-volts"]
    assert limit.text == "Voltage of the cell after ten seconds under load"
    assert (limit.unit, limit.resolution, limit.settings) == ("V", 0.01, {})
    assert limit.scales == {
        "Finch": Scale(0, 2, (Band("Flat", 1.1), Band("Good", None))),
        "Wren": Scale(0, 4, (Band("Flat", 2.2), Band("Good", None))),
    }
    assert limit.data == {"Finch": {"LAMP-01": "3"}, "Wren": {"LAMP-01": "3"}}
    assert [limit.scales["Wren"].band_of(volts) for volts in map(Decimal, ("2.19", "2.2", "4"))] == [
        "Flat",
        "Good",
        "Good",
    ]


def test_parts_consumables_and_tools() -> None:
    library = sample_library()
    assert library.parts == {
        "SL-10": Part("SL-10", "Cell", per_year=6, lead_days=3),
        "SL-22": Part("SL-22", "Switch", per_year=0.5, lead_days=14),
        "SL-31": Part("SL-31", "Lamp head", per_year=0.3, lead_days=14),
    }
    assert library.consumables == {"contact-wipe": Consumable("contact-wipe", "Dry contact wipe", service=0)}
    assert library.tools == {
        "spare-cell": Tool("spare-cell", "Spare cell known to be good", "user"),
        "volt-meter": Tool("volt-meter", "Volt meter with a load"),
        "ring-key": Tool("ring-key", "Ring key"),
    }


def test_the_operational_check_and_the_inspection() -> None:
    library = sample_library()
    assert library.operational_checks == {
        "lights-ten-times": OperationalCheck(
            "lights-ten-times",
            "Switching check",
            ("Switch the lamp on and off ten times.",),
            "Does it light each time?",
            "user",
            "Lights ___ of 10",
            minutes={"Finch": 1, "Wren": 1},
        )
    }
    assert library.inspection == {
        "IN-1": InspectionItem(
            "IN-1", "1 month", "user", "Lens whole, switch moves freely", tree="lamp-does-not-light"
        ),
        "IN-2": InspectionItem("IN-2", "12 months", "repairer", "Cell voltage under load", limit="cell-volts"),
    }


# -- the tree


def test_the_header_of_the_tree() -> None:
    tree = sample_tree()
    assert (tree.id, tree.short, tree.symptom) == ("lamp-does-not-light", "LMP", "The lamp does not light")
    assert (tree.also, tree.equipment) == (("lamp is dead", "no light"), ("hand lamp",))
    assert (tree.urgency, tree.revision, tree.date, tree.status) == ("soon", 2, "2026-11-20", "draft")
    assert (tree.author, tree.figures, tree.released) == ("", "", None)
    assert tree.written_against == {"LAMP-01": "B"}
    assert tree.before == ("The lamp is out of the charger.",)
    assert tree.first_actions == (Action("user", "Take another lamp. Hang the tag on this one."),)
    assert tree.fallback == (Action("user", "Work with the spare lamp."),)
    assert tree.report == "Lamp no. ___ did not light at ___ (place, temperature)."
    assert tree.cases == (Case("a flat cell is found", "repairer", "Finch", "cell-flat", (), "fit-cell"),)
    assert tree.models == ("Finch", "Wren")


def test_both_variants_have_all_steps_in_the_order_of_the_file() -> None:
    order = "spare-cell volts switch bridge bridge-last contacts-last contacts contacts-dark fit-cell wipe-contacts"
    order += " wipe-contacts-dark wipe-contacts-last fit-switch fit-switch-last fit-head out-of-use"
    for model, variant in sample_tree().variants.items():
        assert variant.model == model
        assert variant.start == "spare-cell"
        assert " ".join(variant.steps) == order
        assert all(step.id == id for id, step in variant.steps.items())
        assert variant.passed_over == {}


def test_the_scales_differ_so_that_one_variant_does_not_stand_for_all() -> None:
    tree = sample_tree()
    assert not tree.alike
    assert tree.variants["Finch"].steps is tree.variants["Wren"].steps


def test_a_check_with_notices_and_an_open_item() -> None:
    assert check("spare-cell") == Check(
        id="spare-cell",
        base="spare-cell",
        text="Does the lamp light with a spare cell?",
        who="user",
        do=("Take the cell out.", "Fit the spare cell. Switch on."),
        minutes=1,
        tools=("spare-cell",),
        notices=("hot-lens", "wrong-cell"),
        opens=("cell-out",),
        findings=(Finding("Lights", 1, "volts"), Finding("Stays dark", 2, "switch")),
        unable=Route("volts", "no spare cell"),
    )


def test_a_measured_check() -> None:
    assert check("volts") == Check(
        id="volts",
        base="volts",
        text="Is the old cell good under load?",
        who="repairer",
        minutes=2,
        tools=("volt-meter",),
        measure="cell-volts",
        usual=("Good",),
        findings=(
            Finding("Flat", 1, "fit-cell"),
            Finding("Good", 2, "contacts"),
            Finding("No reading", 3, "fit-cell", "The meter shows nothing at all"),
        ),
        unable=Route("contacts"),
    )


def test_a_check_by_feel() -> None:
    step = check("switch")
    assert (step.sure, step.minutes, step.usual) == (0.8, 0.5, ("Clicks",))
    assert step.findings[1] == Finding("No click", 2, "bridge", "Moves without any click")


def test_repeated_checks_keep_the_base_and_go_their_own_ways() -> None:
    base, again = check("contacts"), check("contacts-dark")
    assert (again.id, again.base) == ("contacts-dark", "contacts")
    assert (again.text, again.do, again.usual) == (base.text, ("Look at both springs in good light.",), ("Clean",))
    assert again.findings == (Finding("Clean", 1, "bridge-last"), Finding("Film", 2, "wipe-contacts-dark"))
    assert again.unable == Route("wipe-contacts-dark")
    assert check("bridge-last").unable == check("bridge").unable == OUT
    assert check("bridge-last").accesses == ("lamp-open",)


def test_a_fix() -> None:
    assert fix("fit-cell") == Fix(
        id="fit-cell",
        base="fit-cell",
        text="Fit a new cell",
        clears=("cell-flat",),
        who="user",
        minutes=1,
        parts={"SL-10": "1"},
        notices=("wrong-cell",),
        do=("Read the type in the cap. Fit a new cell of this type.",),
        closes=("cell-out",),
        data={"LAMP-01": "2"},
        operational_check="lights-ten-times",
        did="New cell fitted.",
        failed=Route("wipe-contacts"),
        cannot=OUT,
    )


def test_a_fix_with_torque_second_inspection_and_recheck() -> None:
    step = fix("fit-switch")
    assert step.torques == (Torque("head ring", 0.5),)
    assert step.second_inspection == SecondInspection("Seal lies in its groove")
    assert step.recheck == Recheck("1 month", "user", "Switch clicks")
    assert step.data == {"LAMP-01": "4.1"}
    assert (step.accesses, step.who, step.wait) == (("lamp-open",), "repairer", 0)


def test_repeated_fixes_change_only_the_ways_that_they_give() -> None:
    base = fix("wipe-contacts")
    assert (base.failed, base.cannot) == (OUT, OUT)
    for id, failed in (("wipe-contacts-dark", "bridge-last"), ("wipe-contacts-last", "fit-head")):
        again = fix(id)
        assert (again.base, again.failed, again.cannot) == ("wipe-contacts", Route(failed), OUT)
        assert (again.clears, again.do, again.consumables) == (base.clears, base.do, ("contact-wipe",))


def test_the_end() -> None:
    end = sample_tree().variants["Finch"].steps["out-of-use"]
    assert end == End(id="out-of-use", kind="out of service", do=("Hang the tag on the lamp. Tell the store.",))


def test_causes() -> None:
    causes = sample_tree().variants["Wren"].causes
    assert list(causes) == ["cell-flat", "contacts-dirty", "switch-worn", "head-failed"]
    assert causes["contacts-dirty"] == Cause(
        "contacts-dirty",
        "Contacts dirty",
        why="Dust and moisture build a film on the springs.",
        weight=25,
        shows={"spare-cell": ("Lights", "Stays dark"), "contacts": ("Film",)},
        found="Film on the contacts.",
        watch=("IN-1",),
    )
    assert causes["head-failed"].by_elimination
    assert causes["head-failed"].shows == {"spare-cell": ("Stays dark",)}
    assert [cause.weight for cause in causes.values()] == [60, 25, 10, 5]


def test_what_a_cause_shows_at_a_check() -> None:
    variant = sample_tree().variants["Finch"]
    flat, dirty = variant.causes["cell-flat"], variant.causes["contacts-dirty"]
    assert variant.shown(check("volts"), flat) == ("Flat",)
    assert variant.shown(check("volts"), dirty) == ("Good",)
    assert variant.shown(check("spare-cell"), dirty) == ("Lights", "Stays dark")
    assert variant.shown(check("contacts-last"), dirty) == ("Film",)
