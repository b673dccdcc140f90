"""The holder's force on an upright circle."""

import math

import pytest

from crankpin.mechanics import bends, circular, vertical_circle
from crankpin.mechanics.errors import OutOfDomainError


def test_weight_and_holder_together_give_the_centripetal_force():
    for angle in (0.0, 0.7, 2.0, 3.9, 5.5):
        across, up = vertical_circle.holding_force(2.5, 1.8, 0.42, angle, 9.81)
        net = (across, up - vertical_circle.weight(2.5, 9.81))
        needed = bends.centripetal_force(2.5, circular.centripetal_acceleration(1.8, 0.42))
        assert net[0] == pytest.approx(-needed * math.cos(angle), abs=1e-12)
        assert net[1] == pytest.approx(-needed * math.sin(angle), abs=1e-12)


def test_at_the_rate_at_which_the_acceleration_is_g_the_holder_does_nothing_at_the_top():
    rate = math.sqrt(9.81 / 1.8)
    assert vertical_circle.force_at_top(2.5, 1.8, rate, 9.81) == pytest.approx(0.0, abs=1e-12)
    assert vertical_circle.force_at_top(2.5, 1.8, 1.1 * rate, 9.81) < 0.0
    assert vertical_circle.force_at_bottom(2.5, 1.8, rate, 9.81) == pytest.approx(2 * 2.5 * 9.81)


@pytest.mark.parametrize(("name", "given"), [("mass", (0.0, 9.81)), ("gravity", (2.5, -9.81))])
def test_mass_and_gravity_must_be_above_zero(name, given):
    with pytest.raises(OutOfDomainError) as caught:
        vertical_circle.weight(*given)
    assert caught.value.quantity == name
