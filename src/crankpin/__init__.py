"""crankpin: a course site whose every number is computed by one tested mechanics package."""

__version__ = "0.1.0"
