"""What keeps a tree of right shape from being built: models, repeated steps, bands, accesses that nobody may open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.load.again import troubles_of_again
from faulttree.load.fields import Each, Record
from faulttree.load.models import Scope, Trouble, advice_for, depends, troubles_of, troubles_of_each
from faulttree.load.nodes import THE_KEY, Path
from faulttree.load.steps import who_may
from faulttree.model import Library


def troubles_of_tree(record: Record, library: Library) -> Iterator[Trouble]:
    """Every trouble of the tree."""
    every = tuple(library.models)
    tree = tuple(record.get("models", every))
    yield from Scope(every, every).unknown(tree, ("models",), in_list=True)
    scope = Scope(every, tree)
    if type(record["start"]) is Each:
        yield from troubles_of_each(record["start"], tree, scope, ("start",))
    for id, cause in record["causes"].items():
        yield from _troubles_of_cause(cause, scope, ("causes", id))
    for id, step in record["steps"].items():
        if "models" in step:
            yield from scope.unknown(step["models"], ("steps", id, "models"), in_list=True)
        if "again" in step:
            yield from troubles_of_again(id, record["steps"], scope)
        else:
            yield from _troubles_of_step(id, step, scope, library)


def _troubles_of_cause(cause: Record, scope: Scope, path: Path) -> Iterator[Trouble]:
    own = cause.get("models", scope.tree)
    if "models" in cause:
        yield from scope.unknown(own, (*path, "models"), in_list=True)
    if "shows" in cause and depends(cause["shows"]):
        yield from troubles_of(cause["shows"], own, scope, (*path, "shows"))


def _troubles_of_step(id: str, step: Record, scope: Scope, library: Library) -> Iterator[Trouble]:
    path = ("steps", id)
    own: Sequence[str] = step.get("models", scope.tree)
    if depends(step):
        yield from troubles_of(step, own, scope, path)
    if "check" in step:
        yield from _troubles_of_findings(step, own, scope, path)
        if step.get("measure") in library.limits:
            yield from _troubles_of_bands(step, [model for model in own if model in scope.tree], library, path)
    if "access" in step:
        yield from _troubles_of_access(step, library, path)


def _troubles_of_findings(step: Record, own: Sequence[str], scope: Scope, path: Path) -> Iterator[Trouble]:
    """Findings that leave out models, and models that no finding is left for."""
    findings = step["findings"]
    if type(findings) is tuple:
        return
    for label, finding in findings.items():
        mine = finding.get("models", own)
        if "models" in finding:
            yield from scope.unknown(mine, (*path, "findings", label, "models"), in_list=True)
        if depends(finding):
            yield from troubles_of(
                finding, [model for model in mine if model in own], scope, (*path, "findings", label)
            )
    for model in own:
        if model in scope.tree and not any(model in finding.get("models", own) for finding in findings.values()):
            message = f'no finding is left for model "{model}"'
            yield Trouble("model-left-out", (*path, "findings", THE_KEY), message, f'add one for "{model}"')


def _troubles_of_bands(step: Record, own: Sequence[str], library: Library, path: Path) -> Iterator[Trouble]:
    """Models that the measured limit has no value for, and its bands that are no findings."""
    limit = library.limits[step["measure"]]
    findings = step["findings"]
    missing: dict[str, list[str]] = {}
    for model in own:
        scale = limit.scales.get(model)
        if scale is None:
            message = f'the limit "{limit.id}" has no value for model "{model}"'
            advice = f'give it one, or keep the step from "{model}" by `models`'
            yield Trouble("model-left-out", (*path, "measure"), message, advice)
            continue
        for band in scale.bands:
            finding = findings.get(band.label) if type(findings) is dict else {} if band.label in findings else None
            if finding is None or model not in finding.get("models", (model,)):
                missing.setdefault(band.label, []).append(model)
    for label, models in missing.items():
        only = "" if len(models) == len(own) else " for model " + ", ".join(f'"{model}"' for model in models)
        message = f'the band "{label}" of the limit "{limit.id}" is missing from the findings{only}'
        spare = [
            each for each in findings if each not in {band.label for band in next(iter(limit.scales.values())).bands}
        ]
        yield Trouble("band-missing", (*path, "findings", THE_KEY), message, _advice_for_band(label, spare))


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
