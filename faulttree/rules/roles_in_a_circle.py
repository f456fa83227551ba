"""Roles include each other in a circle.

Meaning:
    A role includes another that, directly or in turn, includes it.

Why:
    Whoever includes a role may do its steps. In a circle every role may do the steps of all the others, so the first
    role would be led into work that is not its own.

Wrong:
    roles:
      crew: {may: look, includes: [mechanic]}
      mechanic: {may: repair, includes: [crew]}

Right:
    roles:
      crew: {may: look}
      mechanic: {may: repair, includes: [crew]}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Hit, Shared


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each role of a circle."""
    roles = shared.library.roles
    for name, role in roles.items():
        circle = [other for other in roles if other != name and other in role.covers and name in roles[other].covers]
        if circle:
            others = ", ".join(f'"{other}"' for other in circle)
            message = f'the role "{name}" and {others} include each other'
            yield Hit(("roles", name, "includes", "~"), message, "let a role include only those that may do less")
