import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import energy, spring_buffer, springs
from crankpin.mechanics.errors import AbsentError
from tests.strategies import gravities, spread

bodies = spread(1e-3, 1e4)
buffers = spread(1e-1, 1e6)
speeds = spread(1e-2, 1e2)
pulls = st.just(0.0) | gravities


@given(bodies, buffers, speeds, pulls)
def test_the_energy_is_all_in_the_spring_at_the_deepest(mass, stiffness, speed, gravity):
    deepest = spring_buffer.greatest_compression(mass, stiffness, speed, gravity)
    before = energy.kinetic(mass, speed) + mass * gravity * deepest
    assert energy.potential(stiffness, deepest) == pytest.approx(before, rel=1e-12)


@given(bodies, buffers, speeds, pulls)
def test_at_the_end_of_the_touch_the_spring_is_as_long_as_before(mass, stiffness, speed, gravity):
    touch = spring_buffer.contact_time(mass, stiffness, speed, gravity)
    deepest = spring_buffer.greatest_compression(mass, stiffness, speed, gravity)
    halfway, end = (
        spring_buffer.compression_after(mass, stiffness, speed, gravity, touch * share) for share in (0.5, 1.0)
    )
    assert end == pytest.approx(0.0, abs=1e-11 * deepest)
    assert halfway == pytest.approx(deepest, rel=1e-11)


@given(bodies, buffers, spread(1e-2, 1e2), gravities)
def test_a_fall_from_rest_gives_the_stretch_after_a_fall(mass, stiffness, height, gravity):
    speed = spring_buffer.speed_after_fall(0.0, height, gravity)
    deepest = spring_buffer.greatest_compression(mass, stiffness, speed, gravity)
    assert deepest == pytest.approx(springs.stretch_after_fall(mass, stiffness, gravity, height), rel=1e-12)


@given(bodies, buffers, gravities)
def test_set_on_the_spring_it_sinks_twice_as_far_as_it_will_rest(mass, stiffness, gravity):
    still = springs.static_stretch(mass, stiffness, gravity)
    assert spring_buffer.greatest_compression(mass, stiffness, 0.0, gravity) == pytest.approx(2.0 * still, rel=1e-14)
    with pytest.raises(AbsentError, match="does not leave"):
        spring_buffer.contact_time(mass, stiffness, 0.0, gravity)
