"""The one error that the mechanics raises."""


class OutOfDomainError(ValueError):
    """A quantity lies where a formula does not hold.

    ``quantity`` is the parameter's name, ``required`` the condition in words with its unit,
    ``given`` the value that came (SI).
    """

    def __init__(self, quantity: str, required: str, given: float) -> None:
        self.quantity = quantity
        self.required = required
        self.given = given
        super().__init__(f"{quantity} must be {required}; it was {given!r}")


class AbsentError(ValueError):
    """The quantity asked for does not exist in this case (no peak, no repeat, never reached).

    ``reason`` is one sentence in the words of the trade, fit to be shown to a student.
    """

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(reason)
