"""Unquoted values: what they mean, and the closed list of forms that are refused."""

# ruff: noqa: E501 - a row of a table of cases stays on one line

import pytest

from preflint.load.quoting import shorten
from preflint.load.yaml.scalars import Ambiguous, plain_value


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("true", True),
        ("false", False),
        ("0", 0),
        ("-0", 0),
        ("6", 6),
        ("-12", -12),
        ("24.10", 24.1),
        ("-0.05", -0.05),
        ("0.0", 0.0),
        ("5e-05", 5e-05),
        ("-1.25e-06", -1.25e-06),
        ("1.0e+3", 1000.0),
        ("-2.5E-3", -0.0025),
        ("9" * 40, int("9" * 40)),
        ("cw", "cw"),
        ("2026-04-18", "2026-04-18"),
        ("2026-04-18 14:30", "2026-04-18 14:30"),
        ("24.1V", "24.1V"),
        ("14 in", "14 in"),
        ("M6", "M6"),
        ("4.5.1", "4.5.1"),
        ("1e", "1e"),
        ("e3", "e3"),
        ("0x", "0x"),
        ("0b2", "0b2"),
        ("_1", "_1"),
        ("12:", "12:"),
        (":30", ":30"),
        ("none", "none"),
        ("None", "None"),
        ("nan", "nan"),
        ("north", "north"),
        ("-", "-"),
        (".", "."),
        ("+", "+"),
        ("1-2", "1-2"),
        ("5 A", "5 A"),
        ("é", "é"),
        ("½", "½"),
        ("5 ± 1", "5 ± 1"),
    ],
)
def test_what_a_value_means(written: str, value: object) -> None:
    read = plain_value(written)
    assert (type(read), read) == (type(value), value)


TWO_READINGS = "is read differently by different programs; write"
NOTHING = "stands for nothing; write the value, or leave the entry out"


@pytest.mark.parametrize(
    ("written", "complaint"),
    [
        *[(word, f'"{word}" {TWO_READINGS} true') for word in ("yes", "Yes", "YES", "y", "Y", "on", "On", "ON")],
        *[(word, f'"{word}" {TWO_READINGS} true') for word in ("True", "TRUE")],
        *[(word, f'"{word}" {TWO_READINGS} false') for word in ("no", "No", "NO", "n", "N", "off", "Off", "OFF")],
        *[(word, f'"{word}" {TWO_READINGS} false') for word in ("False", "FALSE")],
        *[(word, f'"{word}" {NOTHING}') for word in ("~", "null", "Null", "NULL")],
        ("012", '"012" begins with a zero; write the number without it'),
        ("-07.5", '"-07.5" begins with a zero; write the number without it'),
        ("00", '"00" begins with a zero; write the number without it'),
        ("0x1f", '"0x1f" is not a decimal number; write it in decimal'),
        ("0o12", '"0o12" is not a decimal number; write it in decimal'),
        ("0b1", '"0b1" is not a decimal number; write it in decimal'),
        ("12:30", '"12:30" is read as a number by some programs; write a time of day in quotes'),
        ("1:2:3", '"1:2:3" is read as a number by some programs; write a time of day in quotes'),
        ("1e3", '"1e3" has an exponent; write 1000'),
        ("05e-3", '"05e-3" has an exponent; write 0.005'),
        ("+5e-3", '"+5e-3" has an exponent; write 0.005'),
        (".5e-3", '".5e-3" has an exponent; write 0.0005'),
        ("1.e+3", '"1.e+3" has an exponent; write 1000'),
        ("1e+13", '"1e+13" has an exponent; write 10000000000000'),
        ("1e+999", '"1e+999" has an exponent; write the number out in full'),
        ("1e-400", '"1e-400" has an exponent; write the number out in full'),
        ("0e-10", '"0e-10" has an exponent; write 0'),
        ("1e999999999", '"1e999999999" has an exponent; write the number out in full'),
        ("1_000", '"1_000" has underscores in a number; write 1000'),
        ("1_000.5", '"1_000.5" has underscores in a number; write 1000.5'),
        ("1_", '"1_" has underscores in a number; write 1'),
        ("+5", '"+5" has a plus sign; write 5'),
        ("+.5", '"+.5" has a plus sign; write 0.5'),
        (".5", '".5" has a decimal point without digits on both sides; write 0.5'),
        ("-.5", '"-.5" has a decimal point without digits on both sides; write -0.5'),
        ("5.", '"5." has a decimal point without digits on both sides; write 5'),
        (".nan", '".nan" is not a reading; write the number, or leave the entry out'),
        (".NaN", '".NaN" is not a reading; write the number, or leave the entry out'),
        (".inf", '".inf" is not a reading; write the number, or leave the entry out'),
        ("-.Inf", '"-.Inf" is not a reading; write the number, or leave the entry out'),
        ("24,11", '"24,11" has a comma; the decimal sign is a point: write 24.11'),
        ("6,", '"6," ends in a comma; write 6'),
        ("1,000", '"1,000" has a comma; write 1.000 if it is the decimal sign, 1000 if it sets off thousands'),
        ("-12,500", '"-12,500" has a comma; write -12.500 if it is the decimal sign, -12500 if it sets off thousands'),
        ("0,125", '"0,125" has a comma; the decimal sign is a point: write 0.125'),
        ("1234,500", '"1234,500" has a comma; the decimal sign is a point: write 1234.500'),
        ("1,000.5", '"1,000.5" has commas; write 1000.5'),
        ("1,234,567", '"1,234,567" has commas; write 1234567'),
        ("1,2,3", '"1,2,3" has commas; write the number with a decimal point and no other signs'),
    ],
)
def test_forms_that_two_readers_take_differently_are_refused(written: str, complaint: str) -> None:
    with pytest.raises(Ambiguous) as refused:
        plain_value(written)
    assert str(refused.value) == f'{complaint}; if it is text, write "{written}"'


@pytest.mark.parametrize(
    ("written", "number"),
    [("\u22125", "-5"), ("\u20130.5", "-0.5"), ("24\u00a0", "24"), ("1\u202f000", "1000"), ("\uff12\uff14", "24"), ("٣", "3")],
)
def test_a_number_in_signs_that_only_look_like_digits_is_refused(written: str, number: str) -> None:
    with pytest.raises(Ambiguous, match=f"only look like a number's; write {number}$"):
        plain_value(written)


@pytest.mark.parametrize("written", ["9" * 41, "0." + "1" * 39, "-" + "9" * 40, "1" * 5000])
def test_a_number_is_at_most_forty_characters_long(written: str) -> None:
    with pytest.raises(Ambiguous, match=f"^a number of {len(written)} characters; no reading has more than 40$"):
        plain_value(written)


def test_long_or_unseen_text_is_shortened_for_a_message() -> None:
    assert shorten("a  b\n c") == "a b c"
    assert shorten("x" * 41) == "x" * 39 + "…"
    assert shorten("a\x1b\udcff") == "a\\x1b\\udcff"
