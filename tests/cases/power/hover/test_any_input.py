"""Whatever numbers the schema lets through, at their ends too, and whatever is missing: an answer, never a failure."""

import json
import math
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.findings.outcome import Crashed
from preflint.testing import inspect_text

TINY = 1e-20
NO_TABLE = st.just({})


def number(low, high, *usual):
    """Often a usual one, else any of the range, its ends, and the least above zero that can be written."""
    ends = st.sampled_from([low or TINY, high, TINY if low <= 0 else low])
    inside = st.floats(low, high).map(lambda x: float(f"{x:.12g}") if abs(x) >= TINY else TINY)
    return st.sampled_from([*usual] * 3 or [high]).flatmap(lambda one: st.one_of(*[st.just(one)] * 6, ends, inside))


def maybe(fields):
    """A record, mostly complete."""
    return st.one_of(*[st.fixed_dictionaries(fields)] * 5, st.fixed_dictionaries({}, optional=fields))


def record(fields, rows=NO_TABLE):
    """None, one or two records, each with its table."""
    one = st.tuples(maybe(fields), rows).map(lambda two: {"date": "2026-05-17", **two[0], **two[1]})
    other = one.map(lambda it: {**it, "date": "2026-05-16"})
    return st.one_of(one.map(lambda it: [it]), st.tuples(one, other).map(list), st.just([]))


def table(*columns):
    """One to six rows; ``columns`` are (name, greatest, usual ones)."""
    row = st.tuples(*(number(0, most, *usual) for _, most, *usual in columns)).map(list)
    names = [name for name, *_ in columns]
    # By the last column, so that what is counted up in a run counts up.
    rows = st.lists(row, min_size=1, max_size=8).map(lambda rows: sorted(rows, key=lambda row: row[-1]))
    return rows.map(lambda rows: {"columns": names, "rows": rows})


SETTINGS = {
    "divider_ratio": number(TINY, 1000, 7), "sensor_mv_per_a": number(TINY, 10000, 26),
    "zero_mv": number(-20000, 20000, 512),
}  # fmt: skip
REFERENCE = maybe({
    "accuracy_percent": number(0, 50, 0.5, 2), "accuracy_v": number(0, 10, 0.01), "accuracy_a": number(0, 100, 0.1),
    "resolution_v": number(TINY, 10, 0.01), "resolution_a": number(TINY, 100, 0.1),
})  # fmt: skip
PACK = st.just("A1")
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
        "pack": PACK, "full_before": st.sampled_from([True, True, False]), "in_force": maybe(SETTINGS),
        "reference": REFERENCE,
    }, st.fixed_dictionaries({
        "counted_mah": number(0, 1000000, 3800, 4000), "put_back_mah": number(0, 1000000, 4000, 4300),
    })),
    "cell_voltages": record(
        {"pack": PACK, "full": st.booleans(), "pack_v": number(0, 200, 16.8, 12.6), "reference": REFERENCE},
        st.lists(number(0, 5, 4.2, 4.15), min_size=1, max_size=6).map(lambda cells: {"cells_v": cells}),
    ),
    "thrust_stand": record(
        {}, table(("thrust_g", 5000, 100, 300, 900), ("current_a", 200, 1, 3, 9), ("voltage_v", 100, 15, 14))
    ),
    "current_comparison": record(
        {"in_force": maybe(SETTINGS), "reference": REFERENCE},
        table(("throttle_percent", 100, 0, 35, 55), ("indicated_a", 300, 0, 9, 21), ("reference_a", 300, 0, 9.1, 21.2)),
    ),
    "voltage_comparison": record(
        {"in_force": maybe(SETTINGS), "reference": REFERENCE, "loaded": st.booleans()},
        table(("indicated_v", 100, 14, 16), ("reference_v", 100, 14.1, 16.1)),
    ),
}  # fmt: skip
MANIFEST = st.fixed_dictionaries({
    "preflint": st.just(1),
    "aircraft": st.tuples(
        st.sampled_from(["quad-x", "y6", "x8"]),
        maybe({"arm_mm": number(10, 5000, 260), "takeoff_mass_g": number(10, 150000, 1500)}),
    ).map(lambda two: {"name": "Trial", "layout": two[0], **two[1]}),
    "site": maybe({
        "temperature_c": number(-60, 60, 15), "elevation_m": number(-400, 6000, 100),
        "station_pressure_hpa": number(300, 1100, 1000), "relative_humidity_percent": number(0, 100, 50),
    }),
    "every_rotor": maybe({
        "ducted": st.booleans(), "prop": st.fixed_dictionaries({"diameter_in": number(0.5, 80, 10)}),
        "motor": st.fixed_dictionaries({"full_throttle_draw_a": number(0.1, 500, 20)}),
    }),
    "packs": maybe({
        "chemistry": st.sampled_from(["lipo", "life"]), "cells": st.sampled_from([1, 3, 4, 30]),
        "capacity_mah": number(10, 200000, 5000),
        "lead": maybe({"gauge_awg": st.sampled_from([0, 12, 40]), "one_way_length_mm": number(TINY, 5000, 200)}),
    }).map(lambda pack: [{"label": "A1", **pack}]),
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
@given(MANIFEST)
def test_an_answer_to_everything(manifest):
    seen = inspect_text(written(manifest))
    crashed = [r.rule.id for r in seen.results if isinstance(r.outcome, Crashed) and r.rule.topic == "power_sensing"]
    assert crashed == []
    of_figures = [one for one in seen.broken if "power" in str(one) or "pack" in str(one)]
    assert of_figures == []
    for figure in seen.computed:
        u = figure.standard_uncertainty
        assert not math.isnan(figure.value), figure
        assert u is None or u >= 0, figure
