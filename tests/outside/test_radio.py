"""Free-space loss, break point and Fresnel radius against ITU-R formulae, worked values and general constants."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from preflint.compute.radio import (
    break_point_m,
    free_space_loss_db,
    fresnel_radius_m,
    full_power_reach_m,
    link_margin_db,
    wavelength_m,
)


# Recommendation ITU-R P.525, equation with f in MHz and d in km: 32.4 + 20·log10 f + 20·log10 d, so at 1 km
# 100.0 dB at 2400 MHz and 91.2 dB at 868 MHz.
@pytest.mark.parametrize(("mhz", "metres", "loss"), [
    (2400, 1000, 100.0), (868, 1000, 91.2), (2400, 300, 89.6), (5800, 1000, 107.7), (433, 2000, 91.2),
])  # fmt: skip
def test_free_space(mhz, metres, loss):
    assert free_space_loss_db(mhz, metres) == pytest.approx(loss, abs=0.06)
    assert free_space_loss_db(mhz, metres) == pytest.approx(
        32.4 + 20 * math.log10(mhz) + 20 * math.log10(metres / 1000), abs=0.06
    )


@given(st.floats(1, 1e5), st.floats(1, 1e5))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_the_same_by_the_spread_of_power(mhz, metres):
    """Power over the sphere's surface, taken by an isotropic antenna's aperture λ²/4π."""
    wave = constants.c / (mhz * 1e6)
    share = wave**2 / (4 * math.pi) / (4 * math.pi * metres**2)
    assert free_space_loss_db(mhz, metres) == pytest.approx(-10 * math.log10(share), abs=1e-9)
    assert wavelength_m(mhz) == pytest.approx(wave)


# 30 dB less held to 40 m, planned 300 m: 12.5 dB, and 1265 m at full power; 20 dB, 30 m, 500 m: -4.4 dB (worked by
# hand with logarithms).
@pytest.mark.parametrize(("reduced", "held", "planned", "left", "reach"), [
    (30, 40, 300, 12.5, 1265), (20, 30, 500, -4.4, 300), (0, 100, 100, 0, 100), (20, 100, 1000, 0, 1000),
    (0, 200, 100, 6.02, 200),
])  # fmt: skip
def test_margin(reduced, held, planned, left, reach):
    assert link_margin_db(reduced, held, planned) == pytest.approx(left, abs=0.05)
    assert full_power_reach_m(reduced, held) == pytest.approx(reach, abs=0.5)


@given(st.floats(0, 60), st.floats(1, 1e4), st.floats(1, 1e4), st.floats(1, 6000))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_margin_is_the_difference_of_two_losses(reduced, held, planned, mhz):
    more = free_space_loss_db(mhz, planned) - free_space_loss_db(mhz, held)
    assert link_margin_db(reduced, held, planned) == pytest.approx(reduced - more, abs=1e-9)
    assert link_margin_db(reduced, held, full_power_reach_m(reduced, held)) == pytest.approx(0, abs=1e-9)


# 4π·h₁·h₂/λ at 2.4 GHz: 1.5 m and 0.3 m 45 m, 1.5 m and 1 m 151 m (textbook formula of two rays, from memory).
@pytest.mark.parametrize(("one", "other", "metres"), [(1.5, 0.3, 45), (1.5, 1.0, 151), (1.0, 1.5, 151)])
def test_break_point(one, other, metres):
    assert break_point_m(2400, one, other) == pytest.approx(metres, abs=0.5)


def test_beyond_the_break_point_the_ground_takes_more():
    """Of a direct ray and one turned over by the ground, added as waves: from there on with the fourth power."""
    mhz, one, other = 2400.0, 1.5, 1.0
    wave = constants.c / (mhz * 1e6)

    def loss(metres):
        direct, bounced = math.hypot(metres, one - other), math.hypot(metres, one + other)
        field = complex(0)
        for way, sign in ((direct, 1), (bounced, -1)):
            phase = 2 * math.pi * way / wave
            field += sign * complex(math.cos(phase), math.sin(phase)) / way
        return -20 * math.log10(abs(field) * wave / (4 * math.pi))

    point = break_point_m(mhz, one, other)
    assert loss(20 * point) - loss(10 * point) == pytest.approx(40 * math.log10(2), abs=0.1)
    assert loss(10 * point) > free_space_loss_db(mhz, 10 * point) + 10
    assert all(loss(point * share) > free_space_loss_db(mhz, point * share) - 6.1 for share in (0.1, 0.2, 0.5, 1))


# Recommendation ITU-R P.526: the first ellipsoid, d₁ + d₂ = d + λ/2; in the middle of 300 m at 2.4 GHz 3.06 m.
def test_fresnel():
    assert fresnel_radius_m(2400, 300) == pytest.approx(3.06, abs=0.005)
    radius, wave = fresnel_radius_m(868, 1000), constants.c / 868e6
    assert 2 * math.hypot(500, radius) == pytest.approx(1000 + wave / 2, abs=3e-5)


@pytest.mark.parametrize("call", [
    lambda: free_space_loss_db(0, 1), lambda: free_space_loss_db(2400, 0), lambda: link_margin_db(0, 0, 1),
    lambda: link_margin_db(0, 1, -1), lambda: break_point_m(2400, 0, 1), lambda: fresnel_radius_m(2400, 0),
    lambda: wavelength_m(float("nan")),
])  # fmt: skip
def test_nothing_above_zero(call):
    with pytest.raises(ValueError, match="is above zero, not"):
        call()
