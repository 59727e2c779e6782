"""Which records were taken under load, and which of them in the inverted rig."""

from collections.abc import Iterator

from preflint.api import Aircraft, Known, records

LoadedRun = records.CurrentComparison | records.InterferenceRun | records.SagRun


def loaded_runs(aircraft: Aircraft) -> Iterator[tuple[str, LoadedRun]]:
    """Every record that says by which route its load was made, with its kind in words."""
    for comparison in aircraft.records.current_comparison:
        yield "current comparison", comparison
    for run in aircraft.records.interference_run:
        yield "interference run", run
    for sag in aircraft.records.sag_run:
        yield "sag run", sag


def maybe_inverted(aircraft: Aircraft) -> list[tuple[str, LoadedRun]]:
    """The records taken in the inverted rig and those that do not say their route, the oldest first."""
    found = [
        (kind, run)
        for kind, run in loaded_runs(aircraft)
        if not isinstance(run.route, Known) or run.route.value == "inverted-load"
    ]
    return sorted(found, key=lambda item: (item[1].date.value.latest, item[0]))


def inverted_runs(aircraft: Aircraft) -> list[tuple[str, LoadedRun]]:
    """The records taken in the inverted rig, the oldest first."""
    return [(kind, run) for kind, run in maybe_inverted(aircraft) if isinstance(run.route, Known)]
