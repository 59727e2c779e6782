"""Whatever numbers the schema lets through, at their ends too, and whatever is missing: an answer, never a failure."""

import json
import math
import random
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.findings.outcome import Crashed
from preflint.testing import inspect_text

TINY = 1e-20

# Whatever is drawn is a function of ``random.Random``: hypothesis, which would draw each number apart, draws its seed.


def nothing(rng):
    return {}


def just(value):
    return lambda rng: value


def one_of(*values):
    return lambda rng: rng.choice(values)


def number(low, high, *usual):
    """Often a usual one, else any of the range, its ends, and the least above zero that can be written."""

    def drawn(rng):
        inside = rng.choice([rng.uniform(low, high), math.copysign(TINY ** rng.random(), rng.uniform(low, high))])
        inside = float(f"{min(max(inside, low), high):.12g}")
        ends = rng.choice([low or TINY, high, TINY if low <= 0 else low])
        return rng.choice([rng.choice(usual or [high])] * 6 + [ends, inside if abs(inside) >= TINY else TINY])

    return drawn


def every(fields):
    return lambda rng: {name: draw(rng) for name, draw in fields.items()}


def maybe(fields):
    """A record, mostly complete."""

    def drawn(rng):
        kept = rng.choice([1, 1, 1, 1, 1, 0.5])
        return {name: draw(rng) for name, draw in fields.items() if rng.random() < kept}

    return drawn


def record(fields, rows=nothing):
    """None, one or two records, each with its table."""

    def drawn(rng):
        dates = rng.choice([["2026-05-17"], ["2026-05-17", "2026-05-16"], []])
        return [{"date": date, **maybe(fields)(rng), **rows(rng)} for date in dates]

    return drawn


def table(*columns):
    """One to eight rows; ``columns`` are (name, greatest, usual ones)."""

    def drawn(rng):
        cells = [number(0, most, *usual) for _, most, *usual in columns]
        rows = [[cell(rng) for cell in cells] for _ in range(rng.randint(1, 8))]
        # By the last column, so that what is counted up in a run counts up.
        return {"columns": [name for name, *_ in columns], "rows": sorted(rows, key=lambda row: row[-1])}

    return drawn


def cells_v(rng):
    return {"cells_v": [number(0, 5, 4.2, 4.15)(rng) for _ in range(rng.randint(1, 6))]}


def about(rng):
    more = maybe({"arm_mm": number(10, 5000, 260), "takeoff_mass_g": number(10, 150000, 1500)})(rng)
    return {"name": "Trial", "layout": rng.choice(["quad-x", "y6", "x8"]), **more}


def packs(rng):
    pack = maybe({
        "chemistry": one_of("lipo", "life"), "cells": one_of(1, 3, 4, 30), "capacity_mah": number(10, 200000, 5000),
        "lead": maybe({"gauge_awg": one_of(0, 12, 40), "one_way_length_mm": number(TINY, 5000, 200)}),
    })  # fmt: skip
    return [{"label": "A1", **pack(rng)}]


SETTINGS = {
    "divider_ratio": number(TINY, 1000, 7), "sensor_mv_per_a": number(TINY, 10000, 26),
    "zero_mv": number(-20000, 20000, 512),
}  # fmt: skip
REFERENCE = maybe({
    "accuracy_percent": number(0, 50, 0.5, 2), "accuracy_v": number(0, 10, 0.01), "accuracy_a": number(0, 100, 0.1),
    "resolution_v": number(TINY, 10, 0.01), "resolution_a": number(TINY, 100, 0.1),
})  # fmt: skip
PACK = just("A1")
RECORDS = {
    "hover": record({
        "mean_current_a": number(TINY, 1000, 5, 11, 40), "mean_voltage_v": number(TINY, 200, 15),
        "throttle_percent": number(0, 100, 40, 50), "duration_s": number(TINY, 36000, 60),
        "takeoff_mass_g": number(10, 150000, 1500), "height_m": number(0, 500, 5, 50), "wind_m_s": number(0, 60, 0, 2),
        "pack": PACK, "in_force": maybe(SETTINGS),
    }),
    "sag_run": record(
        {"pack": PACK, "dwell_s": number(0, 3600, 10)},
        table(("current_a", 300, 0, 20, 50), ("voltage_v", 100, 16, 15, 14.5), ("used_mah", 20000, 10, 20, 30)),
    ),
    "recharge": record({
        "pack": PACK, "full_before": one_of(True, True, False), "in_force": maybe(SETTINGS),
        "reference": REFERENCE,
    }, every({
        "counted_mah": number(0, 1000000, 3800, 4000), "put_back_mah": number(0, 1000000, 4000, 4300),
    })),
    "cell_voltages": record(
        {"pack": PACK, "full": one_of(True, False), "pack_v": number(0, 200, 16.8, 12.6), "reference": REFERENCE},
        cells_v,
    ),
    "thrust_stand": record(
        {}, table(("thrust_g", 5000, 100, 300, 900), ("current_a", 200, 1, 3, 9), ("voltage_v", 100, 15, 14))
    ),
    "current_comparison": record(
        {"in_force": maybe(SETTINGS), "reference": REFERENCE},
        table(("throttle_percent", 100, 0, 35, 55), ("indicated_a", 300, 0, 9, 21), ("reference_a", 300, 0, 9.1, 21.2)),
    ),
    "voltage_comparison": record(
        {"in_force": maybe(SETTINGS), "reference": REFERENCE, "loaded": one_of(True, False)},
        table(("indicated_v", 100, 14, 16), ("reference_v", 100, 14.1, 16.1)),
    ),
}  # fmt: skip
MANIFEST = every({
    "preflint": just(1),
    "aircraft": about,
    "site": maybe({
        "temperature_c": number(-60, 60, 15), "elevation_m": number(-400, 6000, 100),
        "station_pressure_hpa": number(300, 1100, 1000), "relative_humidity_percent": number(0, 100, 50),
    }),
    "every_rotor": maybe({
        "ducted": one_of(True, False), "prop": every({"diameter_in": number(0.5, 80, 10)}),
        "motor": every({"full_throttle_draw_a": number(0.1, 500, 20)}),
    }),
    "packs": packs,
    "power_sensing": maybe(SETTINGS),
    "records": maybe(RECORDS),
})  # fmt: skip


def written(value):
    """As YAML: like JSON, but numbers without an exponent."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)}: {written(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(written, value)) + "]"
    return format(Decimal(repr(value)), "f") if isinstance(value, float) else json.dumps(value)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.integers(0, 2**32))
def test_an_answer_to_everything(seed):
    seen = inspect_text(written(MANIFEST(random.Random(seed))))
    crashed = [r.rule.id for r in seen.results if isinstance(r.outcome, Crashed) and r.rule.topic == "power_sensing"]
    assert crashed == []
    of_figures = [one for one in seen.broken if "power" in str(one) or "pack" in str(one)]
    assert of_figures == []
    for figure in seen.computed:
        u = figure.standard_uncertainty
        assert not math.isnan(figure.value), figure
        assert u is None or u >= 0, figure
