"""preflint: says what does not add up on a multirotor before its props turn.

    import datetime as dt
    import preflint

    report = preflint.inspect_many("examples/club", judged_on=dt.date(2026, 5, 21))

The names stand in :mod:`preflint.interface`, which is loaded with the first of them that is asked for. A rule module
imports :mod:`preflint.api` instead, and its tests :mod:`preflint.testing`.
"""

from typing import TYPE_CHECKING

from preflint.version import __version__

__all__ = [
    "FORMATS",
    "Cause",
    "Clear",
    "Counts",
    "Crashed",
    "Deferred",
    "Detail",
    "Figure",
    "Finding",
    "Format",
    "Inspected",
    "Job",
    "JudgedOn",
    "NextJob",
    "NotApplicable",
    "NotRead",
    "Note",
    "Outcome",
    "Place",
    "Precaution",
    "PreflintError",
    "Problem",
    "Progress",
    "Reading",
    "Related",
    "Report",
    "Result",
    "RuleInfo",
    "RuleModuleError",
    "Severity",
    "StrPath",
    "Tolerance",
    "Unproven",
    "UsageError",
    "Verdict",
    "__version__",
    "explain",
    "inspect",
    "inspect_many",
    "is_grounded",
    "next_jobs",
    "render_report",
    "write_sheets",
]

if TYPE_CHECKING:
    from preflint.interface import (
        FORMATS,
        Cause,
        Clear,
        Counts,
        Crashed,
        Deferred,
        Detail,
        Figure,
        Finding,
        Format,
        Inspected,
        Job,
        JudgedOn,
        NextJob,
        NotApplicable,
        Note,
        NotRead,
        Outcome,
        Place,
        Precaution,
        PreflintError,
        Problem,
        Progress,
        Reading,
        Related,
        Report,
        Result,
        RuleInfo,
        RuleModuleError,
        Severity,
        StrPath,
        Tolerance,
        Unproven,
        UsageError,
        Verdict,
        explain,
        inspect,
        inspect_many,
        is_grounded,
        next_jobs,
        render_report,
        write_sheets,
    )
else:  # hidden from type checkers, which would otherwise take any name for one of these

    def __getattr__(name: str) -> object:
        """A public name, looked up once."""
        if name not in __all__:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from importlib import import_module

        value = globals()[name] = getattr(import_module("preflint.interface"), name)
        return value

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
