"""What lies behind a go of an aircraft of the club: ``python -m making.clear NAME``, in the folder tests."""

import datetime as dt
import sys
from collections.abc import Iterator

from making.manifests import CLUB
from preflint.engine.rule_module import builtin_and
from preflint.findings.outcome import Clear
from preflint.inspection import inspect_manifest

DAY = dt.date(2026, 5, 21)


def clear(name: str) -> str:
    """Every rule that is clear about it, with the evidence, and every figure to four digits; a line each."""
    return "".join(f"{line}\n" for line in _lines(name))


def _lines(name: str) -> Iterator[str]:
    told = inspect_manifest(CLUB / f"{name}.airframe.yaml", DAY, builtin_and(()))
    for result in told.results:
        if isinstance(result.outcome, Clear):
            yield f"{_of(result.rule.id, result.at)}: {result.outcome.evidence or '-'}"
    for figure in told.computed:
        u = "" if figure.standard_uncertainty is None else f" ± {figure.standard_uncertainty:.4g}"
        dof = "" if figure.dof is None else f", {figure.dof:.4g} degrees of freedom"
        yield f"{_of(figure.quantity, figure.case, figure.at)}: {figure.value:.4g}{u} {figure.unit}{dof}"


def _of(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part is not None)


if __name__ == "__main__":
    sys.stdout.write(clear(sys.argv[1]))
