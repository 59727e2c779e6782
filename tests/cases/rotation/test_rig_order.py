"""rotation/rig-check against an oracle that tries every order in which looks and runs may have happened."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import LOADED, answer, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven

JUDGED_ON = 20
# Hours of the day that stand for "some time": before, between and after those that are written.
ANY_TIME = (6.0, 10.0, 14.0)

WHEN = st.tuples(st.sampled_from([18, 19, 20, 21]), st.sampled_from([None, None, 8, 12]))
LOOKS = st.lists(st.tuples(WHEN, st.sampled_from(["flight", "flight", "inverted-load"])), max_size=3)
RUNS = st.lists(
    st.tuples(
        WHEN, st.sampled_from(["inverted-load", "restrained", "hover-log", None]), st.sampled_from(sorted(LOADED))
    ),
    max_size=3,
)


def possible(when):
    """Every moment that it may have been, in hours; of one minute either may come first."""
    day, hour = when
    return [24 * day + h for h in (ANY_TIME if hour is None else (hour - 0.001, hour + 0.001))]


def verdicts(looks, runs):
    """What is true in each order that is possible: pass, inverted, older (or no look), nothing to look for."""
    # A look that is still to come proves nothing; one that saw the inverted rig is never ignored.
    looks = [(when, rig) for when, rig in looks if when[0] <= JUDGED_ON or rig == "inverted-load"]
    runs = [when for when, route, _ in runs if route in ("inverted-load", None)]
    seen = set()
    for hours in product(*(possible(when) for when in (*(when for when, _ in looks), *runs))):
        looked, ran = hours[: len(looks)], hours[len(looks) :]
        # Two written at different times never swap; of one moment both orders are tried.
        last = max(zip(looked, (rig for _, rig in looks), strict=True), default=None)
        tied = {rig for hour, (_, rig) in zip(looked, looks, strict=True) if last and hour == last[0]}
        if "inverted-load" in tied:
            seen.add("inverted")
        if tied != {"inverted-load"}:
            if not runs:
                seen.add("nothing")
            else:
                seen.add("pass" if last and last[0] > max(ran) else "older")
    return seen


def written(day, hour):
    return f"2026-05-{day}" + (f" {hour:02d}:00" if hour else "")


def recorded(looks, runs):
    entries = {"rig_check": [f"date: {written(*when)}, rig: {rig}" for when, rig in looks]}
    for when, route, kind in runs:
        by = f"route: {route}, " if route else ""
        entries.setdefault(kind, []).append(f"date: {written(*when)}, {by}{LOADED[kind]}")
    return manifest(records=entries)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(LOOKS, RUNS)
def test_never_in_favour(looks, runs):
    told = answer(recorded(looks, runs), "rotation/rig-check", judged_on=f"2026-05-{JUDGED_ON}")
    true = verdicts(looks, runs)
    if isinstance(told, Clear):
        assert true == {"pass"}
    elif isinstance(told, Finding):
        assert "inverted" in true
    elif isinstance(told, NotApplicable):
        assert true == {"nothing"}
    else:
        assert isinstance(told, Unproven)
        assert true not in ({"pass"}, {"nothing"})
        assert "inverted" not in true
