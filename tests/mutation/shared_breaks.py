"""Breaks of shared entries that the tree uses."""

from __future__ import annotations

from .breaks import breaks
from .places import Ground, Places, each_in, less, put, without


@breaks("a signal word is lowered", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        if entry.get("signal") == "warning":
            yield name, put(entry, "signal", "caution")


@breaks("drop how to avoid a hazard", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        for at in each_in(entry, "avoid"):
            yield name, less(entry, "avoid", at)


@breaks("other words for a hazard")
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        if "hazard" in entry:
            yield name, put(entry, "hazard", "Something else")


@breaks("a warning is no longer shown every time", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        if "every_time" in entry:
            yield name, without(entry, "every_time")


@breaks("drop a notice that is used", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        if entry.get("signal") != "note":
            yield name, without(ground.docs["notices"]["notices"], name)


@breaks("a lower role at an access", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("accesses"):
        if entry.get("who", ground.first) != ground.first:
            yield name, put(entry, "who", ground.first)


@breaks("fewer people at an access", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("accesses"):
        if "people" in entry:
            yield name, without(entry, "people")


@breaks("an access without its warning", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("accesses"):
        if "notices" in entry:
            yield name, without(entry, "notices")


@breaks("an access no longer opens its item", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("accesses"):
        if "opens" in entry:
            yield name, without(entry, "opens")


@breaks("a hazard becomes a duty", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("open_items"):
        if entry.get("kind") != "duty":
            yield name, put(entry, "kind", "duty")


@breaks("drop a line of an operational check", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("operational_checks"):
        for at in each_in(entry, "do"):
            if isinstance(entry["do"], list):
                yield f"{name}, line {at + 1}", less(entry, "do", at)


@breaks("a lower role at an operational check", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("operational_checks"):
        if entry["who"] != ground.first:
            yield name, put(entry, "who", ground.first)


@breaks("a warning only while occupied", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("notices"):
        if entry["signal"] != "note" and "occupied" not in entry:
            yield name, put(entry, "occupied", "only")


@breaks("fewer people at an operational check", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("operational_checks"):
        if "people" in entry:
            yield name, without(entry, "people")


@breaks("an operational check with an occupant", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("operational_checks"):
        if "occupied" not in entry and ground.library.occupant:
            yield name, put(entry, "occupied", "allowed")


@breaks("an operational check without a warning", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("operational_checks"):
        for at in each_in(entry, "notices"):
            signal = ground.library.notices[entry["notices"][at]].signal
            if signal != "note":
                yield f"{name}, {entry['notices'][at]}", less(entry, "notices", at)


@breaks("shorten the wait for a consumable", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("consumables"):
        for key in ("service", "cure"):
            if key in entry:
                yield f"{name}, {key}", without(entry, key)


@breaks("a tool is given to the first role", weakens=True)
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("tools"):
        if entry.get("who", "") != ground.first:
            yield name, put(entry, "who", ground.first)


@breaks("stale document: its revision went on")
def _(ground: Ground) -> Places:
    for name, entry in ground.shared("documents"):
        yield name, put(entry, "revision", "Z")


@breaks("nobody asks about an occupant", weakens=True)
def _(ground: Ground) -> Places:
    if "occupant" in ground.docs["library"]:
        yield "occupant", without(ground.docs["library"], "occupant")


@breaks("the first role may do what a higher one does", weakens=True)
def _(ground: Ground) -> Places:
    roles = ground.docs["library"]["roles"]
    for name in list(roles)[1:]:
        covers = ground.library.roles[name].covers
        if ground.first not in covers:
            yield name, put(roles[ground.first], "includes", [name])


@breaks("drop what the first role may not do", weakens=True)
def _(ground: Ground) -> Places:
    role = ground.docs["library"]["roles"][ground.first]
    for at in each_in(role, "may_not"):
        yield str(at + 1), less(role, "may_not", at)


@breaks("the first role may do more: a longer line", weakens=True)
def _(ground: Ground) -> Places:
    role = ground.docs["library"]["roles"][ground.first]
    for at in each_in(role, "may"):
        yield str(at + 1), put(role["may"], at, f"{role['may'][at].rstrip('.')} and whatever else is needed.")
