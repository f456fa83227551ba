"""What keeps a tree of right shape from being built: models, repeated steps, bands, accesses that nobody may open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from faulttree.load.again import troubles_of_again
from faulttree.load.fields import Each, Record
from faulttree.load.models import Scope, Trouble, advice_for, troubles_of, troubles_of_each
from faulttree.load.nodes import THE_KEY, Path
from faulttree.load.steps import who_may
from faulttree.model import Library, Limit


def troubles_of_tree(record: Record, library: Library, plain: bool) -> Iterator[Trouble]:
    """Every trouble of the tree; ``plain`` says that nothing in it is for one model or for some only."""
    every = tuple(library.models)
    tree = tuple(record.get("models", every))
    yield from Scope(every, every).unknown(tree, ("models",), in_list=True)
    scope = Scope(every, tree)
    if not plain:
        yield from _troubles_of_models(record, scope)
    for id, step in record["steps"].items():
        if "again" in step:
            yield from troubles_of_again(id, record["steps"], scope)
        if "measure" in step:
            yield from _troubles_of_bands(step, scope, library, ("steps", id))
        if "access" in step:
            yield from _troubles_of_access(step, library, ("steps", id))


def _troubles_of_models(record: Record, scope: Scope) -> Iterator[Trouble]:
    """Values that leave out a model or name one that is not there. Repeated steps have theirs looked at elsewhere."""
    if type(record["start"]) is Each:
        yield from troubles_of_each(record["start"], scope.tree, scope, ("start",))
    for id, cause in record["causes"].items():
        yield from _troubles_of_cause(cause, scope, ("causes", id))
    for id, step in record["steps"].items():
        if "models" in step:
            yield from scope.unknown(step["models"], ("steps", id, "models"), in_list=True)
        if "again" not in step:
            own: Sequence[str] = step.get("models", scope.tree)
            yield from troubles_of(step, own, scope, ("steps", id))
            if type(step.get("findings")) is dict:
                yield from _troubles_of_findings(step["findings"], own, scope, ("steps", id, "findings"))


def _troubles_of_cause(cause: Record, scope: Scope, path: Path) -> Iterator[Trouble]:
    own = cause.get("models", scope.tree)
    if "models" in cause:
        yield from scope.unknown(own, (*path, "models"), in_list=True)
    if "shows" in cause:
        yield from troubles_of(cause["shows"], own, scope, (*path, "shows"))


def _troubles_of_findings(
    findings: Mapping[str, Record], own: Sequence[str], scope: Scope, path: Path
) -> Iterator[Trouble]:
    """Findings that leave out models, and models that no finding is left for."""
    for label, finding in findings.items():
        mine = finding.get("models", own)
        if "models" in finding:
            yield from scope.unknown(mine, (*path, label, "models"), in_list=True)
        yield from troubles_of(finding, [model for model in mine if model in own], scope, (*path, label))
    for model in own:
        if model in scope.tree and not any(model in finding.get("models", own) for finding in findings.values()):
            message = f'no finding is left for model "{model}"'
            yield Trouble("model-left-out", (*path, THE_KEY), message, f'add one for "{model}"')


def _troubles_of_bands(step: Record, scope: Scope, library: Library, path: Path) -> Iterator[Trouble]:
    """Models that the measured limit has no value for, and its bands that are no findings."""
    limit = library.limits.get(step["measure"])
    if not limit:
        return
    own = [model for model in step.get("models", scope.tree) if model in scope.tree]
    for model in own:
        if model not in limit.scales:
            message = f'the limit "{limit.id}" has no value for model "{model}"'
            advice = f'give it one, or keep the step from "{model}" by `models`'
            yield Trouble("model-left-out", (*path, "measure"), message, advice)
    measured = [model for model in own if model in limit.scales]
    if measured:
        yield from _missing_bands(step["findings"], limit, measured, (*path, "findings", THE_KEY))


def _missing_bands(findings: Any, limit: Limit, own: Sequence[str], path: Path) -> Iterator[Trouble]:
    """The bands that are no findings, for any of the models ``own``. The labels are the same in every scale."""
    bands = [band.label for band in limit.scales[own[0]].bands]
    spare = [label for label in findings if label not in bands]
    for band in bands:
        lacking = [model for model in own if not _has_finding(findings, band, model)]
        if lacking:
            only = "" if len(lacking) == len(own) else " for model " + ", ".join(f'"{model}"' for model in lacking)
            message = f'the band "{band}" of the limit "{limit.id}" is missing from the findings{only}'
            yield Trouble("band-missing", path, message, _advice_for_band(band, spare))


def _has_finding(findings: Any, label: str, model: str) -> bool:
    if label not in findings:
        return False
    return type(findings) is tuple or model in findings[label].get("models", (model,))


def _advice_for_band(label: str, spare: Sequence[str]) -> str:
    like = advice_for(label, spare, "")
    return f'{like.replace("write", "rename")} to "{label}"' if like else f'write where "{label}" leads'


def _troubles_of_access(step: Record, library: Library, path: Path) -> Iterator[Trouble]:
    """Accesses and a step that no one role may do together; unknown names are left to the rules."""
    accesses = [library.accesses[name] for name in step["access"] if name in library.accesses]
    needed = [role for role in (step["who"], *(each.who for each in accesses)) if role]
    if any(role not in library.roles for role in needed):
        return
    who = who_may(needed, library)
    if not all(library.may(who, role) for role in needed):
        roles = " and ".join(f'"{role}"' for role in dict.fromkeys(needed))
        message = f"no role may do what is for {roles}, which this step and its accesses need"
        yield Trouble(
            "role-none", (*path, "access", THE_KEY), message, "choose another access, or part the step in two"
        )
