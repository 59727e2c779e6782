"""Nothing is computed twice in one run: every fit, comparison and deviation with the same input happens once."""

import datetime as dt
import functools
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from making.manifests import CLUB
from preflint_rules.power import draw, fit, lift, stand
from preflint_rules.power.hover import conditions, shown
from preflint_rules.power.sag import fit as sag_fit

from preflint.compute import calibration, deviation, ellipsoid, geomagnetism, least_squares, plateaus, regression
from preflint.engine.rule_module import builtin_and
from preflint.inspection import inspect_manifest

COSTLY: list[tuple[ModuleType, str]] = [
    (calibration, "gain_only"),
    (calibration, "gain_and_zero"),
    (calibration, "gain_with_zero_prior"),
    (deviation, "deviations"),
    (ellipsoid, "fit_ellipsoid"),
    (geomagnetism, "geomagnetic_field"),
    (least_squares, "solve"),
    (plateaus, "find_plateaus"),
    (regression, "vector_line"),
    # What power makes of the fits.
    (fit, "compare"),
    (draw, "_hover_current"),
    (lift, "interference"),
    (lift, "least_power_w"),
    (stand, "stand_power_w"),
    (conditions, "steady_hover"),
    (conditions, "_against_theory"),
    (shown, "_of_display"),
    (shown, "power_w"),
    (sag_fit, "fitted_sag"),
    (sag_fit, "latest_sag"),
]


def told(value: Any) -> Any:
    """An argument by its contents; of an object without any the object itself."""
    if isinstance(value, np.ndarray):
        return value.shape, value.tobytes()
    if isinstance(value, tuple | list):
        return tuple(told(each) for each in value)
    return value if isinstance(value, str | int | float | None) else repr(value)


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Counter[Any]:
    """How often each of the costly functions was called with the same input, wherever its name was imported."""
    counted: Counter[Any] = Counter()

    def counting(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        @functools.wraps(function)
        def wrapped(*arguments: Any, **named: Any) -> Any:
            counted[(name, told(arguments), tuple((key, told(value)) for key, value in sorted(named.items())))] += 1
            return function(*arguments, **named)

        return wrapped

    builtin_and(())  # so that every module that may hold one of the names is loaded
    for home, name in COSTLY:
        function = getattr(home, name)
        counting_one = counting(name, function)
        for module in list(sys.modules.values()):
            if getattr(module, "__name__", "").startswith("preflint_rules") and vars(module).get(name) is function:
                monkeypatch.setattr(module, name, counting_one)
    return counted


@pytest.mark.parametrize("manifest", sorted(CLUB.rglob("*.airframe.yaml")), ids=lambda path: path.name)
def test_nothing_is_computed_twice(manifest: Path, calls: Counter[Any]) -> None:
    inspect_manifest(manifest, dt.date(2026, 5, 21), builtin_and(()))
    assert {f"{key[0]} {str(key)[:300]}": count for key, count in calls.items() if count > 1} == {}


def test_the_recorded_aircraft_are_computed_at_all(calls: Counter[Any]) -> None:
    for manifest in sorted(CLUB.rglob("*.airframe.yaml")):
        inspect_manifest(manifest, dt.date(2026, 5, 21), builtin_and(()))
    assert {name for _, name in COSTLY} == {key[0] for key in calls}
