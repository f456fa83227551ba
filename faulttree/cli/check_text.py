"""``faulttree check`` for people: problems at length or one a line, claims, what was explored, the total."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Sequence

from faulttree.cells import broken
from faulttree.cli import report
from faulttree.cli.checked import Found, Result
from faulttree.cli.output import Bold, out, talk, width
from faulttree.library_files import shown
from faulttree.visible import one_line


def tell(args: Namespace, results: Sequence[Result], found: Found) -> bool:
    """Print everything; returns whether exploring found a rule that is broken."""
    _print_problems(args, found)
    if args.verbose:
        for line in (*_let_stand(found), *_claims(results), *_entries(results)):
            out(line)
    is_broken = args.explore and _explore(results)
    say = talk if args.concise else out
    for sentence in (report.total(found), *report.not_yet(found)):
        for line in broken(sentence, width()):
            say(line)
    if found.problems and not args.concise:
        talk(f'"faulttree explain {found.problems[0].rule}" says what a rule means.')
    return is_broken


def _print_problems(args: Namespace, found: Found) -> None:
    if args.concise:
        for problem in found.problems:
            out(*report.concise(problem))
        return
    lines = {name: text.split("\n") for name, text in found.texts.items()}
    for line in report.texts(found.problems, lambda file: lines.get(file, ()), width()):
        out(*line)


def _let_stand(found: Found) -> Iterator[str]:
    columns = width()
    if found.let_stand:
        yield "What is let stand, and why:"
    for problem, reason in found.let_stand:
        yield from broken(f"{report.place(problem)}: {problem.rule}: {problem.message}", columns, "  - ", "    ")
        yield from broken(f"because: {reason}", columns, "    ", "    ")
    if found.let_stand:
        yield ""


def _claims(results: Sequence[Result]) -> Iterator[str]:
    from faulttree.cli.claims import claims_of, unused_in

    columns = width()
    for result in results:
        for tree, claimed in claims_of(result.loaded, result.sound):
            yield f"What {tree} claims, for somebody to judge who knows the equipment:"
            for claim in claimed:
                yield from broken(claim.words, columns, "  - ", "    ")
            yield ""
        for tree, lines in unused_in(result.loaded, result.sound):
            yield f"What no cause and no case of {tree} comes to:"
            for line in lines:
                yield from broken(line, columns, "  - ", "    ")
            yield ""


def _entries(results: Sequence[Result]) -> Iterator[str]:
    from faulttree.cli.unused_entries import in_words, lost_schemas, unused_entries

    columns = width()
    for result in results:
        lines = in_words(unused_entries(result))
        if lines:
            yield from broken(f"Not used by any tree or recurring item of {shown(result.loaded.folder)}:", columns)
            for line in lines:
                yield from broken(line, columns, "  - ", "    ")
            yield ""
        lost = list(lost_schemas(result))
        if lost:
            yield "Schemas that are named and not there, so that an editor checks nothing:"
            for name, schema in lost:
                yield from broken(f"{one_line(name)}: {one_line(schema)}", columns, "  - ", "    ")
            yield ""


def _explore(results: Sequence[Result]) -> bool:
    from faulttree.cli.claims import explored_in
    from faulttree.explore import HOLDS

    columns = width()
    found = False
    for result in results:
        for line, wrong in explored_in(result.loaded, result.sound):
            for part in broken(line, columns, "", "    "):
                out(part)
            for rule in wrong:
                out("  ", Bold("broken"), f": {rule}")
            found = found or bool(wrong)
        for id in result.trees:
            if id not in result.sound:
                out(f"{id}: not explored, it has errors")
        if not result.loaded.library:
            out(f"{shown(result.loaded.folder)}: not explored, its shared files have errors")
    if not found and any(result.sound for result in results):
        out("In every one of them:")
        for rule in HOLDS:
            for part in broken(rule, columns, "  - ", "    "):
                out(part)
    out("")
    return found
