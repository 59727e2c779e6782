"""Whatever a manifest looks like: after an addition it loads to what it was and the addition, or nothing is changed."""

import datetime as dt
from decimal import Decimal
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import CLUB

from preflint.aircraft.moment import Moment
from preflint.errors import NotRead
from preflint.load.yaml.events import load_yaml
from preflint.writing.insert import insert

KINDS = ("rig_check", "spin_test", "bell_pull", "voltage_comparison", "log")
# Text that has bitten readers and writers of YAML before: each is legal in quotes.
WORDS = st.sampled_from(
    ["A1", "no", "12:30", "a: b", "a #b", "- x", "*x", "&x", "{x", "é µ", '"', "'", "0x1F", "~", "1e3", "[", "x "]
)
NUMBERS = st.decimals(-(10**6), 10**6, places=3)
DAY = Moment(dt.date(2026, 5, 21), dt.time(10, 5))
RECORDS: Any = st.fixed_dictionaries({}, optional={
    "by": WORDS, "moved": st.booleans(), "mean_v": NUMBERS, "damaged": st.lists(WORDS, max_size=3),
    "seen": st.dictionaries(st.sampled_from(["front-left", "left", "rear-right-upper"]), WORDS, min_size=1),
    "rows": st.lists(st.lists(NUMBERS, min_size=2, max_size=2), min_size=1, max_size=30),
    "moves": st.lists(st.fixed_dictionaries({"did": WORDS, "sped_up": st.lists(WORDS)}), min_size=1, max_size=3),
}).map(lambda rest: {"date": DAY, **rest})  # fmt: skip
COMMENT = st.sampled_from(["", "", "  # why", " #"])
BETWEEN = st.sampled_from(["", "", "\n", "# a remark\n", "\n\n# records:\n", "      # far in\n", "  # in\n"])


@st.composite
def lists(draw: Any, key: str, indent: str) -> str:
    """A list under a key: between brackets, on one line or several, or of lines with hyphens."""
    form, note = draw(st.sampled_from(["[]", "flow", "long", "block", "tight", "wide", "hanging"])), draw(COMMENT)
    key = draw(st.sampled_from([key, f'"{key}"']))
    entry = draw(st.sampled_from(["{date: 2026-05-01, by: X}", "{date: 2026-05-01}"]))
    if form == "[]":
        return f"{indent}{key}: []{note}\n"
    if form == "flow":
        return f"{indent}{key}: [{', '.join([entry] * draw(st.integers(1, 5)))}]{note}\n"
    if form == "long":
        inner, comma = f"{indent}   ", draw(st.sampled_from([",", ""]))
        return f"{indent}{key}: [{note}\n{inner}{entry},{note}\n{inner}{entry}{comma}{note}\n{indent}  ]\n"
    own = indent + ("" if form == "tight" else "  ")
    hyphen, inner = {"wide": ("-   ", "    "), "hanging": (f"-{note}\n{own}  ", "  ")}.get(form, ("- ", "  "))
    lines = [f"{own}{hyphen}date: 2026-05-01{note}\n{own}{inner}by: X{note}\n", f"{own}- {entry}{note}\n"]
    text = draw(
        st.sampled_from(
            [
                '"a b"',
                "|\n" + own + inner + "  told\n" + own + inner + "  long",
                "X\n" + own + inner + "  Y",
                "[1,\n" + own + inner + " 2]",
            ]
        )
    )
    lines.append(f"{own}{hyphen}date: 2026-05-01\n{own}{inner}by: {text}\n")
    return f"{indent}{key}:{note}\n" + "".join(draw(st.lists(st.sampled_from(lines), min_size=1, max_size=3)))


@st.composite
def manifests(draw: Any) -> bytes:
    """A manifest in any dress; what its records hold is not looked at here."""
    sections = [f"preflint: 1{draw(COMMENT)}\n", "aircraft: {name: T, layout: quad-x}\n"]
    held = draw(st.sampled_from(["none", "{}", "flow", "block"]))
    indent = draw(st.sampled_from(["  ", " ", "      "]))
    if held == "block":
        kinds = draw(st.lists(st.sampled_from(KINDS[:4]), min_size=1, unique=True))
        sections.append(
            f"records:{draw(COMMENT)}\n"
            + "".join(
                draw(BETWEEN.filter(lambda text: "far" not in text)) + draw(lists(kind, indent)) for kind in kinds
            )
        )
    elif held != "none":
        sections.append(
            {"{}": "records: {}\n", "flow": "records: {rig_check: [{date: 2026-05-01}],\n  spin_test: []}\n"}[held]
        )
    if draw(st.booleans()):
        sections.append(draw(lists("logbook", "")))
    if draw(st.booleans()):
        sections.append("deferred_defects: []\n")
    sections = draw(st.permutations(sections))
    text = "".join(section + draw(BETWEEN) for section in sections)
    text = text.rstrip("\n") if draw(st.booleans()) else text
    text = text.replace("\n", "\r\n") if draw(st.booleans()) else text
    return (b"\xef\xbb\xbf" if draw(st.booleans()) else b"") + text.encode()


def as_told(value: Any) -> Any:
    """What a value is when it is read again, worked out apart."""
    if isinstance(value, dict):
        return {key: as_told(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [as_told(inner) for inner in value]
    return float(value) if isinstance(value, Decimal) else str(value) if isinstance(value, Moment) else value


def check(data: bytes, kind: str, records: list[Any]) -> bool:
    """Whether it was added; all that must hold then, and nothing but a refusal otherwise."""
    before: Any
    try:
        before = load_yaml(data, "t").plain()
        after, place = insert(data, "t", kind, records)
    except NotRead:
        return False
    start = next((at for at, byte in enumerate(data) if after[at] != byte), len(data))
    assert after[start + len(after) - len(data) :] == data[start:]
    told: Any = load_yaml(after, "t").plain()
    holder = told if kind == "log" else told["records"]
    key = "logbook" if kind == "log" else kind
    new = holder[key][-len(records) :]
    assert new == as_told(records)
    holder[key] = holder[key][: -len(records)]
    if not holder[key] and key not in (before if kind == "log" else before.get("records", {})):
        del holder[key]
    if kind != "log" and "records" not in before and not told["records"]:
        del told["records"]
    assert told == before
    assert "2026-05-21" in after.decode("utf-8-sig").split("\n")[place.line - 1]
    if b"\r\n" in data and data.count(b"\n") == data.count(b"\r\n"):
        assert after.count(b"\n") == after.count(b"\r\n")
    return True


@settings(max_examples=250, deadline=None, derandomize=True)
@given(manifests(), st.sampled_from(KINDS), st.lists(RECORDS, min_size=1, max_size=3))
def test_any_record_goes_into_any_manifest(data: bytes, kind: str, records: list[Any]) -> None:
    assert check(data, kind, records)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(
    st.sampled_from([path.read_bytes() for path in sorted(CLUB.glob("*.airframe.yaml"))]), st.data(),
    st.sampled_from(KINDS), RECORDS,
)  # fmt: skip
def test_a_manifest_with_anything_put_into_it_is_added_to_or_left_alone(
    text: bytes, data: Any, kind: str, record: Any
) -> None:
    at = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 40))
    put = data.draw(
        st.sampled_from(
            [b"", b"\t", b"&a ", b"*a", b"---\n", b"...\n", b"|", b"\n", b"#", b"]", b"}", b"- ", b"\r", b"\xff"]
        )
    )
    check(text[:at] + put + text[at + cut :], kind, [record])
