import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import circular, rotation, turntable
from crankpin.mechanics.errors import AbsentError
from tests.strategies import gravities, spread

coefficients = spread(1e-3, 10.0)
distances = spread(1e-2, 1e2)


@given(coefficients, distances, gravities, st.floats(0.0, 0.999))
def test_where_it_slips_friction_is_used_up(coefficient, radius, gravity, share):
    most = turntable.greatest_acceleration(coefficient, gravity)
    alpha = share * most / radius
    omega = turntable.slipping_rate(coefficient, radius, gravity, alpha)
    assert turntable.acceleration_on_table(radius, omega, alpha) == pytest.approx(most, rel=1e-12)
    assert turntable.slipping_radius(coefficient, omega, gravity, alpha) == pytest.approx(radius, rel=1e-12)


@given(distances, spread(1e-2, 1e2), st.floats(-100.0, 100.0))
def test_the_acceleration_is_that_of_the_two_parts(radius, omega, alpha):
    inward = circular.centripetal_acceleration(radius, omega)
    whole, _ = rotation.total_acceleration(inward, rotation.tangential_acceleration(radius, alpha))
    assert turntable.acceleration_on_table(radius, omega, alpha) == pytest.approx(whole, rel=1e-13)


def test_a_table_that_jerks_lets_it_slip_at_once():
    with pytest.raises(AbsentError, match="at once"):
        turntable.slipping_rate(0.5, 1.0, 10.0, -5.0)
