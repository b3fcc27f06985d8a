from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground import quantities
from ground.quantities import Rounding, Share, Slope, Units

MM, INCH = Units.MM, Units.INCH


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("19", MM, 19),
        ("0.6", MM, 0.6),
        (".5", MM, 0.5),
        ("012", MM, 12),
        ("-5", MM, -5),
        ("18 mm", INCH, 18),
        ("18mm", INCH, 18),
        ("2.5 cm", MM, 25),
        ("1.2 m", MM, 1200),
        ("3/4 in", MM, 19.05),
        ("3/4", INCH, 19.05),
        ("2-1/4", INCH, 57.15),
        ("2 - 1/4", INCH, None),
        ("23 5/8", INCH, 600.075),
        ('2-1/4"', MM, 57.15),
        ("2-1/4″", MM, 57.15),
        ("0.715", INCH, 18.161),
        ("5 ft", MM, 1524),
        ("5'", MM, 1524),
        ("5' 6\"", MM, 1676.4),
        ("5'-6 1/2\"", MM, 1689.1),
        ("5 ft 6 in", MM, 1676.4),
    ],
)
def test_a_length_is_read_in_its_own_units_or_the_piece_s(text, units, mm):
    """3/4 in = 0.75 x 25.4 = 19.05; 2-1/4 in = 57.15; 23-5/8 in = 600.075; 5 ft = 1524."""
    if mm is None:
        with pytest.raises(ValueError, match="cannot read"):
            quantities.length(text, units)
    else:
        assert quantities.length(text, units) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("tall", "cannot read 'tall' as a length; write 19, '19 mm' or '3/4 in'"),
        ("", "nothing is written where a length belongs; write 19, '19 mm' or '3/4 in'"),
        ("nan", "cannot read 'nan' as a length; write 19, '19 mm' or '3/4 in'"),
        (".inf", "cannot read '.inf' as a length; write 19, '19 mm' or '3/4 in'"),
        ("1e3", "cannot read '1e3' as a length; write 19, '19 mm' or '3/4 in'"),
        ("1_000", "cannot read '1_000' as a length; write 19, '19 mm' or '3/4 in'"),
        ("19,5", "cannot read '19,5' as a length; write 19, '19 mm' or '3/4 in'"),
        ("3/", "cannot read '3/' as a length; write 19, '19 mm' or '3/4 in'"),
        ("3/4/5", "cannot read '3/4/5' as a length; write 19, '19 mm' or '3/4 in'"),
        ("١٩", "cannot read '١٩' as a length; write 19, '19 mm' or '3/4 in'"),
        ("1:7", "cannot read '1:7' as a length; write 19, '19 mm' or '3/4 in'"),
        ("1/0", "'1/0' divides by zero; write 19, '19 mm' or '3/4 in'"),
        ("100.1 m", "'100.1 m' is longer than 100 m; write 19, '19 mm' or '3/4 in'"),
        ("9" * 12, f"'{'9' * 12}' is too large to be a length; write 19, '19 mm' or '3/4 in'"),
        ("9" * 99, f"cannot read '{'9' * 57}...' as a length; write 19, '19 mm' or '3/4 in'"),
        ("1\n2", "cannot read '1\\n2' as a length; write 19, '19 mm' or '3/4 in'"),
    ],
)
def test_what_is_no_length_is_refused_in_one_line(text, message):
    with pytest.raises(ValueError) as refusal:  # noqa: PT011 - the whole message is compared
        quantities.length(text, MM)
    assert str(refusal.value) == message


def test_an_inch_file_is_shown_inch_examples():
    with pytest.raises(ValueError, match=r"write 3/4, '3/4 in' or '19 mm'$"):
        quantities.length("tall", INCH)


@given(st.text())
def test_any_text_is_a_finite_length_or_a_value_error(text):
    try:
        found = quantities.length(text, MM)
    except ValueError as error:
        told = str(error)
        assert told.splitlines() == [told]
    else:
        assert abs(found) <= quantities.LONGEST


@given(st.floats(0, 10_000), st.sampled_from(Units))
def test_a_printed_length_reads_back_within_half_a_step(mm, units):
    back = quantities.length(quantities.length_text(mm, units), units)
    assert abs(back - mm) <= quantities.step(units) / 2 + 1e-6


@given(st.floats(0, 10_000), st.sampled_from(Units))
def test_a_length_printed_down_is_never_larger_and_printed_up_never_smaller(mm, units):
    step = quantities.step(units)
    down = quantities.length(quantities.length_text(mm, units, rounding=Rounding.DOWN), units)
    up = quantities.length(quantities.length_text(mm, units, rounding=Rounding.UP), units)
    assert mm - step < down <= mm + 1e-6
    assert mm - 1e-6 <= up < mm + step


@given(st.integers(0, 64 * 300))
def test_every_sixty_fourth_is_printed_as_itself_whichever_way_it_is_rounded(steps):
    mm = float(Fraction(steps, 64) * Fraction("25.4"))
    texts = {quantities.length_text(mm, INCH, rounding=way) for way in Rounding}
    assert len(texts) == 1
    assert quantities.length(texts.pop(), INCH) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (412.84, MM, "412.8"),
        (412.85, MM, "412.9"),
        (1680, MM, "1680"),
        (0.04, MM, "0"),
        (-0.04, MM, "0"),
        (-2.25, MM, "-2.2"),
        (600.075, INCH, "23-5/8"),
        (19.05, INCH, "3/4"),
        (254, INCH, "10"),
        (0, INCH, "0"),
        (-57.15, INCH, "-2-1/4"),
    ],
)
def test_a_length_is_printed_as_it_stands_on_a_rule(mm, units, text):
    assert quantities.length_text(mm, units) == text


def test_a_front_is_printed_to_the_safe_side():
    """173.49 mm is 6.8303 in: 6-53/64 (6.8281) down, 6-27/32 (6.8438) up."""
    assert quantities.length_text(173.49, MM, rounding=Rounding.DOWN) == "173.4"
    assert quantities.length_text(173.49, INCH, rounding=Rounding.DOWN) == "6-53/64"
    assert quantities.length_text(173.49, INCH, rounding=Rounding.UP) == "6-27/32"
    assert quantities.length_with_unit(173.5, MM, rounding=Rounding.DOWN) == "173.5 mm"


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("1:6", 9.462), ("1:7", 8.130), ("1:8", 7.125), ("8 deg", 8), ("1 : 7", 8.13)],
)
def test_a_slope_has_its_angle(text, degrees):
    """Slopes of dovetails as angles: 1:6 9.462, 1:7 8.130, 1:8 7.125 degrees (atan)."""
    assert quantities.slope(text).angle == pytest.approx(degrees, abs=5e-4)


def test_a_slope_prints_as_it_was_written():
    assert str(quantities.slope("1:7")) == "1:7"
    assert quantities.slope("2:14") == Slope(1 / 7)


@pytest.mark.parametrize("text", ["67", "7:1", "1:0", "0:7", "1:200", "1:7:2", "", "a:b", ":", "8"])
def test_what_is_no_slope_is_refused(text):
    with pytest.raises(ValueError, match="1:7"):
        quantities.slope(text)


def test_masses_forces_and_temperatures_come_in_both_systems():
    """66 lb = 29.937 kg; 90 lbf = 400.34 N; 70 F = 21.111 C."""
    assert quantities.mass("30") == 30
    assert quantities.mass("66 lb") == pytest.approx(29.93709642)
    assert quantities.mass("500 g") == 0.5
    assert quantities.force("400 N") == 400
    assert quantities.force("90 lbf") == pytest.approx(400.339945373445)
    assert quantities.temperature("21") == 21
    assert quantities.temperature("21 °C") == 21
    assert quantities.temperature("70 F") == pytest.approx(190 / 9)
    assert quantities.temperature("-5 C") == -5


def test_they_are_printed_in_the_piece_s_system():
    assert quantities.mass_text(12.34, MM) == "12.3 kg"
    assert quantities.mass_text(12.34, INCH) == "27.2 lb"
    assert quantities.force_text(400, MM) == "400 N"
    assert quantities.force_text(400, INCH) == "90 lbf"
    assert quantities.temperature_text(190 / 9, INCH) == "70 F"
    assert quantities.temperature_text(21, MM) == "21 C"
    assert quantities.angle_text(16.9621) == "17.0"
    assert quantities.angle_text(-0.01) == "0.0"


def test_an_angle_is_also_a_rise_in_a_hundred():
    """17.0 degrees is 30.6 in 100, 12.1 degrees 21.4 in 100."""
    assert quantities.rise_in_100(17.0) == pytest.approx(30.573, abs=1e-3)
    assert quantities.rise_in_100(12.1) == pytest.approx(21.438, abs=1e-3)


@pytest.mark.parametrize(
    ("read", "text", "message"),
    [
        (quantities.angle, "400", "'400' is a whole turn or more; write degrees, such as 9"),
        (
            quantities.temperature,
            "F70",
            "cannot read 'F70' as a temperature; write 21, '21 C' or '70 F'",
        ),
        (
            quantities.temperature,
            "400",
            "'400' is no temperature of a room; write 21, '21 C' or '70 F'",
        ),
        (quantities.mass, "30 N", "cannot read '30 N' as a mass; write 30, '30 kg' or '66 lb'"),
        (quantities.force, "x", "cannot read 'x' as a force; write 400, '400 N' or '90 lbf'"),
        (quantities.percent, "101", "'101' is not from 0 to 100; write a percentage, such as 8"),
        (quantities.money, "-3", "cannot read '-3' as a price; write 97 or 9.50"),
        (quantities.money, "1,000", "cannot read '1,000' as a price; write 97 or 9.50"),
        (quantities.count, "1.5", "cannot read '1.5' as a whole number; write 2"),
        (quantities.count, "5000", "'5000' is more than 1000; write a smaller number"),
        (quantities.number, "850 kg", "cannot read '850 kg' as a number; write 850"),
        (
            quantities.share,
            "many shares",
            "cannot read 'many' as a number of shares; write '1 share' or '1.5 shares'",
        ),
        (
            quantities.share,
            "0 shares",
            "'0 shares' is not from 0.001 to 1000 shares; write '1 share'",
        ),
    ],
)
def test_other_quantities_are_refused_in_one_line(read, text, message):
    with pytest.raises(ValueError) as refusal:  # noqa: PT011 - the whole message is compared
        read(text)
    assert str(refusal.value) == message


def test_shares_money_and_counts():
    assert quantities.share("1 share") == Share(1)
    assert quantities.share("1.5 shares") == Share(1.5)
    assert quantities.share("1-1/2 shares") == Share(1.5)
    assert quantities.share("520") is None
    assert quantities.money("9.50") == Decimal("9.50")
    assert quantities.count("4") == 4
    assert quantities.percent("8 %") == 8
    assert quantities.number("850") == 850


def test_shown_text_stays_on_one_line_and_within_sixty_characters():
    assert quantities.shown("a" * 60) == f"'{'a' * 60}'"
    assert quantities.shown("a" * 61) == f"'{'a' * 57}...'"
    assert quantities.shown("\x1b[31m\n") == "'\\x1b[31m\\n'"
    assert len(quantities.shown("\x00" * 500)) == 62
