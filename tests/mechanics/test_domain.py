import math

import pytest

from crankpin.mechanics.domain import LEAST, MOST, finite, not_negative, positive, zero_or_positive
from crankpin.mechanics.errors import OutOfDomainError

ABOVE_MOST = math.nextafter(MOST, math.inf)
BELOW_LEAST = math.nextafter(LEAST, 0.0)


def test_the_limits_are_where_the_words_put_them() -> None:
    assert (LEAST, MOST) == (1e-50, 1e50)


def refused(guard, value, unit=None):
    with pytest.raises(OutOfDomainError) as caught:
        guard("mass", value, *([unit] if unit else []))
    assert caught.value.quantity == "mass"
    assert caught.value.given is value
    return caught.value.required


@pytest.mark.parametrize("value", [0.0, -0.0, 1.5, -2.5, 5e-324, -5e-324, MOST, -MOST])
def test_a_finite_number_is_handed_back(value):
    assert math.copysign(1.0, finite("mass", value)) == math.copysign(1.0, value)
    assert finite("mass", value) == value


@pytest.mark.parametrize("value", [LEAST, 1.0, MOST])
def test_a_size_is_handed_back(value):
    assert positive("mass", value, "kg") == not_negative("mass", value, "kg") == value
    assert zero_or_positive("mass", value, "kg") == value


def test_zero_is_handed_back_where_it_is_allowed():
    assert not_negative("mass", 0.0, "kg") == zero_or_positive("mass", 0.0, "kg") == 0.0
    assert not_negative("mass", 5e-324, "kg") == 5e-324


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_finite_number_is_refused(value):
    assert refused(finite, value) == "a finite number"
    assert refused(positive, value, "kg") == "greater than 0 kg"
    assert refused(not_negative, value, "kg") == "zero or greater than 0 kg"
    assert refused(zero_or_positive, value, "kg") == "zero or greater than 0 kg"


@pytest.mark.parametrize("value", [ABOVE_MOST, 1e300])
def test_what_is_too_great_is_refused(value):
    assert refused(finite, value) == refused(finite, -value) == "between -1e50 and 1e50"
    assert refused(positive, value, "kg") == "from 1e-50 to 1e50 kg"
    assert refused(not_negative, value, "kg") == refused(zero_or_positive, value, "kg") == "at most 1e50 kg"


@pytest.mark.parametrize("value", [BELOW_LEAST, 5e-324])
def test_what_is_too_small_to_divide_by_is_refused(value):
    assert refused(positive, value, "kg") == "from 1e-50 to 1e50 kg"
    assert refused(zero_or_positive, value, "kg") == "zero or from 1e-50 to 1e50 kg"


def test_zero_and_less_are_refused():
    for value in (0.0, -0.0, -1.0):
        assert refused(positive, value, "kg") == "greater than 0 kg"
    for value in (-5e-324, -1.0, -1e60):
        assert refused(not_negative, value, "kg") == "zero or greater than 0 kg"
        assert refused(zero_or_positive, value, "kg") == "zero or greater than 0 kg"


def test_a_pure_number_has_no_unit():
    assert refused(positive, 0.0, "1") == "greater than 0"
    assert refused(positive, 1e60, "1") == "from 1e-50 to 1e50"
    assert refused(not_negative, 1e60, "1") == "at most 1e50"
