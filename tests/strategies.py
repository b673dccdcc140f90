"""What the property tests draw from: quantities over the whole range that the course allows."""

import math

from hypothesis import strategies as st


def spread(least: float, most: float) -> st.SearchStrategy[float]:
    """Numbers above zero, spread evenly over the powers of ten."""
    return st.floats(math.log10(least), math.log10(most)).map(lambda power: 10.0**power)


def either_sign(magnitudes: st.SearchStrategy[float]) -> st.SearchStrategy[float]:
    """The same numbers with either sign, and zero."""
    signed = st.tuples(magnitudes, st.sampled_from([-1.0, 1.0])).map(lambda pair: pair[0] * pair[1])
    return st.just(0.0) | signed


lengths = spread(1e-9, 1e9)
times = spread(1e-9, 1e9)
masses = spread(1e-9, 1e9)
stiffnesses = spread(1e-9, 1e9)
angular_frequencies = spread(1e-9, 1e9)
gravities = spread(1e-3, 1e3)
positions = either_sign(lengths)
velocities = either_sign(spread(1e-9, 1e9))
phases = st.floats(-math.pi, math.pi, exclude_min=True)
any_phases = st.floats(-100.0, 100.0)
shares = st.floats(-1.0, 1.0)
