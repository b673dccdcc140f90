"""The examples in the docstrings of the mechanics run as tests."""

import doctest
import importlib
import pkgutil

import pytest

import crankpin.mechanics

MODULES = [found.name for found in pkgutil.iter_modules(crankpin.mechanics.__path__)]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    module = importlib.import_module(f"crankpin.mechanics.{name}")
    assert doctest.testmod(module).failed == 0
