"""``faulttree check --format json``: one document of our own, which only grows."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence

from faulttree.cli import report
from faulttree.cli.checked import Found, Result
from faulttree.cli.output import out
from faulttree.library_files import shown


def tell(args: Namespace, results: Sequence[Result], found: Found) -> bool:
    """Print the document; returns whether exploring found a rule that is broken."""
    from faulttree.cli.claims import claims_as_json, explored_as_json, unused_as_json
    from faulttree.cli.unused_entries import unused_entries

    values: dict[str, object] = {
        "problems": [report.as_json(problem) for problem in found.problems],
        "let_stand": [{**report.as_json(each.problem), "reason": each.reason} for each in found.let_stand],
        "left_out": len(found.left_out),
        "trees": len(found.trees),
        "shared_files": len(found.shared),
        "not_judged": list(found.unjudged),
        "not_proved": [{"file": name, "because": list(because)} for name, because in found.unproved.items()],
    }
    if args.verbose:
        values["claims"] = [each for result in results for each in claims_as_json(result.loaded, result.sound)]
        values["unused_entries"] = [
            {"library": shown(result.loaded.folder), "kind": kind, "name": name}
            for result in results
            for kind, names in unused_entries(result).items()
            for name in names
        ]
        values["unused"] = [each for result in results for each in unused_as_json(result.loaded, result.sound)]
    explored: list[dict[str, object]] = []
    if args.explore:
        explored = [each for result in results for each in explored_as_json(result.loaded, result.sound)]
        values["explored"] = explored
    out(report.document(values))
    return any(each["broken"] for each in explored)
