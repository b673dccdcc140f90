"""Dimensions: a formula gives the quantity under whose symbol and unit it is printed."""

import pytest

from crankpin.calculator.checks import dimension_fault
from crankpin.calculator.declaration import Output
from crankpin.calculator.dimensions import dimension_of, said
from crankpin.calculator.evaluate import formula_of
from crankpin.calculator.formula import FormulaError
from crankpin.calculator.units import DIMENSIONS
from tests.calculators.test_all import CATALOGUE, answered


@pytest.mark.parametrize(
    ("unit", "dimension"),
    [
        ("N m/rad", "kg m^2 s^-2"),
        ("kg m2", "kg m^2"),
        ("s2/kg", "kg^-1 s^2"),
        ("s/d", "a number"),
        ("1/s", "s^-1"),
        ("W", "kg m^2 s^-3"),
        ("m3/(kg s2)", "kg^-1 m^3 s^-2"),
        ("ppm/K", "K^-1"),
        ("km3/yr2", "m^3 s^-2"),
    ],
)
def test_units_by_their_dimension(unit: str, dimension: str) -> None:
    assert said(dimension_of(unit)) == dimension


@pytest.mark.parametrize("measure", DIMENSIONS)
def test_all_units_of_one_kind_have_one_dimension(measure: str) -> None:
    """But for seconds among rates: there a period is typed, and `crankpin.calculator.naming` gives it its own name."""
    found = {dimension_of(unit) for unit in DIMENSIONS[measure] if (measure, unit) != ("rad/s", "s")}
    assert len(found) == 1


def test_an_unknown_unit_is_named() -> None:
    with pytest.raises(FormulaError, match="furlong"):
        dimension_of("furlong")


@pytest.mark.parametrize(
    ("formula", "unit", "fault"),
    [
        ("sqrt(k/m_eff)", "s", "the formula gives s^-1, and the unit is 's'"),
        ("sqrt(k/m_eff)", "rad/s", ""),
        ("k + m_eff", "kg", "it adds kg s^-2 and kg"),
        ("60*f", "rpm", ""),
        ("cos(T)", "1", "it takes cos of s, not of a number"),
        ("k**T", "1", "it raises to a power that is not written as a number"),
        ("m_eff*v_max**2/2", "J", ""),
        ("(m_eff/m)**(k/m_eff*T**2)", "1", ""),
    ],
)
def test_what_is_wrong_with_a_formula(formula: str, unit: str, fault: str) -> None:
    spring = CATALOGUE["spring-mass"]
    asked = Output(key="E", symbol="E", meaning="any", unit=unit, formula=formula)
    changed = type(spring)(**{
        **{name: getattr(spring, name) for name in ("title", "purpose", "inputs", "function")},
        "outputs": (*(one for one in spring.outputs if one.key != "E"), asked),
    })  # fmt: skip
    told = dimension_fault(changed, asked, formula)
    assert told.endswith(fault) if fault else told == ""


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_formula_gives_the_quantity_it_is_printed_for(name: str) -> None:
    calculator = CATALOGUE[name]
    for evaluation in answered(calculator, bench=True):
        for one in calculator.outputs:
            if isinstance(evaluation.outputs[one.key].value, float):
                formula = formula_of(one, evaluation.values)
                assert not formula or not dimension_fault(calculator, one, formula)
