"""Fitting a sine wave to a class's own readings, evenly spaced in time or not."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from crankpin.mechanics.domain import positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.fitting import (
    FitWarning,
    Readings,
    Rows,
    complete_rows,
    readings_warnings,
    scatter,
    standard_uncertainty,
    weighted_mean,
)
from crankpin.mechanics.least_squares import Fit, Linearised, dot, minimise, solve
from crankpin.mechanics.spectrum import Spectrum, spectrum

FEWEST_CYCLES = 1.5
"""Below so many turns swing, offset and frequency are hard to tell apart, and the usual shortcuts fail."""

SLOWEST_CYCLES = 0.2
"""Fewer turns than this over the readings cannot be told from a bend."""


@dataclass(frozen=True, slots=True)
class SineFit:
    """The wave x = offset + A exp(-gamma t) cos(omega t + phi), A in the unit of x, phi in (-pi, pi].

    ``decay_rate`` gamma in 1/s is 0 unless asked for; a u_ is the standard uncertainty of the quantity
    after it, 0 for one that was given and not fitted. ``amplitude`` and ``phase`` hold at t = 0, wherever
    the readings are; ``middle_amplitude`` and ``middle_phase`` at ``middle``, the middle of the readings,
    where they are known best. ``rms`` is the root mean square of the ``n`` residuals, ``scatter`` their
    standard deviation (n less the fitted quantities). ``cycles`` is how many turns the readings span;
    ``rival`` is the angular frequency of another wave that fits almost as well, or None.
    """

    amplitude: float
    u_amplitude: float
    angular_frequency: float
    u_angular_frequency: float
    phase: float
    u_phase: float
    offset: float
    u_offset: float
    decay_rate: float
    u_decay_rate: float
    middle: float
    middle_amplitude: float
    u_middle_amplitude: float
    middle_phase: float
    u_middle_phase: float
    rms: float
    scatter: float
    chi2: float | None
    cycles: float
    n: int
    missing: int
    rival: float | None
    warnings: tuple[FitWarning, ...]

    @property
    def frequency(self) -> float:
        """The frequency in Hz."""
        return self.angular_frequency / math.tau

    @property
    def u_frequency(self) -> float:
        """The standard uncertainty of the frequency in Hz."""
        return self.u_angular_frequency / math.tau

    @property
    def period(self) -> float:
        """The period in s."""
        return math.tau / self.angular_frequency

    @property
    def u_period(self) -> float:
        """The standard uncertainty of the period in s."""
        return self.period * self.u_angular_frequency / self.angular_frequency

    def at(self, time: float) -> float:
        """Return the fitted wave at ``time`` s, in the unit of the readings."""
        since = time - self.middle
        swing = self.middle_amplitude * math.exp(-self.decay_rate * since)
        return self.offset + swing * math.cos(self.angular_frequency * since + self.middle_phase)


def sine_fit(
    times: Readings,
    values: Readings,
    uncertainties: Readings | None = None,
    *,
    angular_frequency: float | None = None,
    damped: bool = False,
) -> SineFit:
    """Return the sine wave that fits the readings best, times in s in any order and unevenly spaced.

    Four quantities are fitted: amplitude, phase, offset and angular frequency; the last is found by itself
    between 0.4 turns over the readings and half the reading rate. A given ``angular_frequency`` in rad/s
    is kept fixed. ``damped`` also fits an exponential decay. ``uncertainties`` are standard uncertainties
    of the values. Raises OutOfDomainError with fewer than two more readings at different times than
    quantities fitted less one, and AbsentError where no wave can be told from the readings.
    Source: the three- and four-parameter fits of IEEE Std 1057 (from memory), from the best places of a
    least-squares spectrum with floating mean; uncertainties from the covariance at the minimum.

    >>> import math
    >>> times = [0.1 * i for i in range(40)]
    >>> fit = sine_fit(times, [2 + 0.5 * math.cos(3 * t + 1) for t in times])
    >>> round(fit.angular_frequency, 9), round(fit.amplitude, 9), round(fit.phase, 9), round(fit.offset, 9)
    (3.0, 0.5, 1.0, 2.0)
    """
    if angular_frequency is not None:
        positive("angular_frequency", angular_frequency, "rad/s")
    rows = _in_order(complete_rows(times, values, uncertainties))
    quantities = 3 + (angular_frequency is None) + damped
    _enough(rows, quantities)
    wave = _Wave(rows, angular_frequency, damped)
    lines = spectrum(rows.x, rows.y, rows.weights)
    return _described(wave, _fits(wave, lines), lines)


class _Wave:
    """The model about the middle of the readings: (c, a, b[, omega][, gamma]) and its columns.

    x = c + exp(-gamma s)(a cos omega s + b sin omega s), s the time since the middle.
    """

    def __init__(self, rows: Rows, fixed: float | None, damped: bool) -> None:
        self.rows = rows
        self.fixed = fixed
        self.damped = damped
        self.middle = rows.x[0] + (rows.x[-1] - rows.x[0]) / 2
        self.span = rows.x[-1] - rows.x[0]
        self.since = [time - self.middle for time in rows.x]
        self.roots = [math.sqrt(w) for w in rows.weights]

    def omega_gamma(self, parameters: Sequence[float]) -> tuple[float, float]:
        rest = list(parameters[3:])
        omega = rest.pop(0) if self.fixed is None else self.fixed
        return omega, rest.pop(0) if self.damped else 0.0

    def start(self, omega: float) -> tuple[float, ...]:
        """Return the best linear start at ``omega``, over a few decay rates if damped."""
        rates = (0.0, 1 / self.span, 3 / self.span, 8 / self.span) if self.damped else (0.0,)
        tried = [(rate, self.linear(omega, rate)) for rate in rates]
        gamma, fit = min(tried, key=lambda pair: pair[1].sum_of_squares)
        return fit.parameters + ((omega,) if self.fixed is None else ()) + ((gamma,) if self.damped else ())

    def linear(self, omega: float, gamma: float) -> Fit:
        """Return the fit of offset and swing at a known angular frequency and decay rate."""
        cosines, sines = self._swings(omega, gamma)
        weighted = [y * root for y, root in zip(self.rows.y, self.roots, strict=True)]
        return solve(weighted, [self.roots, cosines, sines])

    def linearise(self, parameters: Sequence[float]) -> Linearised:
        c, a, b = parameters[:3]
        omega, gamma = self.omega_gamma(parameters)
        cosines, sines = self._swings(omega, gamma)
        swing = [a * p + b * q for p, q in zip(cosines, sines, strict=True)]
        residuals = [(y - c) * root - x for y, root, x in zip(self.rows.y, self.roots, swing, strict=True)]
        columns = [self.roots, cosines, sines]
        if self.fixed is None:
            columns.append([s * (b * p - a * q) for s, p, q in zip(self.since, cosines, sines, strict=True)])
        if self.damped:
            columns.append([-s * x for s, x in zip(self.since, swing, strict=True)])
        return residuals, columns

    def curve(self, parameters: Sequence[float]) -> list[float]:
        """Return the model at the readings' times."""
        c, a, b = parameters[:3]
        cosines, sines = self._swings(*self.omega_gamma(parameters))
        rows = zip(cosines, sines, self.roots, strict=True)
        return [c + (a * p + b * q) / root for p, q, root in rows]

    def uncertainty(self, fit: Fit, slopes: Sequence[float]) -> float:
        """Return that of a quantity with ``slopes`` along (c, a, b, omega, gamma)."""
        fitted = [*slopes[:3]] + [slopes[3]] * (self.fixed is None) + [slopes[4]] * self.damped
        return standard_uncertainty(fit, self.rows.stated, fitted) or 0.0

    def _swings(self, omega: float, gamma: float) -> tuple[list[float], list[float]]:
        sizes = [root * math.exp(-gamma * s) for root, s in zip(self.roots, self.since, strict=True)]
        cosines = [size * math.cos(omega * s) for size, s in zip(sizes, self.since, strict=True)]
        sines = [size * math.sin(omega * s) for size, s in zip(sizes, self.since, strict=True)]
        return cosines, sines


def _fits(wave: _Wave, lines: Spectrum) -> list[Fit]:
    """Return the fits reached from the best places of the spectrum, best first."""
    if wave.fixed is not None and not wave.damped:
        return [wave.linear(wave.fixed, 0.0)]
    found = []
    for omega in _places(lines) if wave.fixed is None else [wave.fixed]:
        try:
            fit = minimise(wave.linearise, wave.start(omega))
        except AbsentError:
            continue
        if wave.omega_gamma(fit.parameters)[0] * wave.span >= SLOWEST_CYCLES * math.tau:
            found.append(fit)
    if not found:
        raise AbsentError("No sine wave can be told from these readings; take more, over more turns.")
    return sorted(found, key=lambda fit: fit.sum_of_squares)


def _places(lines: Spectrum) -> list[float]:
    """Return the angular frequencies worth a fit: the best few, and the slowest that is nearly as good.

    The slowest is there because unlucky spacing can make very many waves fit almost equally well.
    """
    good = lines.peaks(least_share=0.9)
    best = lines.peaks(least_share=0.5)[:4]
    return [math.tau * place for place in dict.fromkeys([*best, *([min(good)] if good else [])])]


def _rival(wave: _Wave, fits: Sequence[Fit]) -> float | None:
    """Return the angular frequency of another fit whose chi-squared is within 6 of the best one's."""
    best = fits[0]
    unit = 1.0 if wave.rows.stated else best.variance or 0.0
    omega, _ = wave.omega_gamma(best.parameters)
    for other in fits[1:]:
        rival, _ = wave.omega_gamma(other.parameters)
        apart = abs(rival - omega) * wave.span > 0.3 * math.tau
        if apart and other.sum_of_squares - best.sum_of_squares <= 6 * unit:
            return rival
    return None


def _described(wave: _Wave, fits: Sequence[Fit], lines: Spectrum) -> SineFit:
    fit, rows = fits[0], wave.rows
    c, a, b = fit.parameters[:3]
    omega, gamma = wave.omega_gamma(fit.parameters)
    swing = math.hypot(a, b)
    if swing == 0:
        raise AbsentError("There is no swing of this frequency in the readings.")
    # how each quantity changes with (c, a, b, omega, gamma)
    of_swing, of_phase = (0.0, a / swing, b / swing, 0.0, 0.0), (0.0, b / swing**2, -a / swing**2, 0.0, 0.0)
    growth = _growth(gamma, wave.middle)
    of_amplitude = (0.0, growth * of_swing[1], growth * of_swing[2], 0.0, growth * swing * wave.middle)
    of_start = (0.0, of_phase[1], of_phase[2], -wave.middle, 0.0)
    phase = math.atan2(-b, a)
    residuals = [y - x for y, x in zip(rows.y, wave.curve(fit.parameters), strict=True)]
    rival = _rival(wave, fits)
    described = SineFit(
        amplitude=growth * swing,
        u_amplitude=wave.uncertainty(fit, of_amplitude),
        angular_frequency=omega,
        u_angular_frequency=wave.uncertainty(fit, (0, 0, 0, 1, 0)),
        phase=_wrapped(phase - math.fmod(omega * wave.middle, math.tau)),
        u_phase=wave.uncertainty(fit, of_start),
        offset=c,
        u_offset=wave.uncertainty(fit, (1, 0, 0, 0, 0)),
        decay_rate=gamma,
        u_decay_rate=wave.uncertainty(fit, (0, 0, 0, 0, 1)),
        middle=wave.middle,
        middle_amplitude=swing,
        u_middle_amplitude=wave.uncertainty(fit, of_swing),
        middle_phase=_wrapped(phase),
        u_middle_phase=wave.uncertainty(fit, of_phase),
        rms=math.sqrt(dot(residuals, residuals) / len(rows)),
        scatter=scatter(fit, rows) or 0.0,
        chi2=fit.variance if rows.stated else None,
        cycles=omega * wave.span / math.tau,
        n=len(rows),
        missing=rows.missing,
        rival=rival,
        warnings=(),
    )
    return replace(described, warnings=readings_warnings(rows, fit) + _warnings(wave, fit, lines, described))


def _growth(gamma: float, middle: float) -> float:
    """Return how much greater the amplitude is at t = 0 than at the middle of the readings."""
    if abs(gamma * middle) > 200:
        raise OutOfDomainError("times", "counted from near the start of the decay", middle)
    return math.exp(gamma * middle)


def _wrapped(angle: float) -> float:
    """Return the angle within (-pi, pi]."""
    within = math.remainder(angle, math.tau)
    return math.pi if within <= -math.pi else within


def _in_order(rows: Rows) -> Rows:
    order = sorted(zip(rows.x, rows.y, rows.weights, strict=True))
    x, y, weights = map(list, zip(*order, strict=True)) if order else ([], [], [])
    return Rows(x, y, weights, rows.stated, rows.missing)


def _enough(rows: Rows, quantities: int) -> None:
    if len(rows) <= quantities:
        raise OutOfDomainError("readings", f"at least {quantities + 1} complete rows for this fit", len(rows))
    if len(set(rows.x)) < quantities:
        raise OutOfDomainError("times", f"at least {quantities} different ones for this fit", len(set(rows.x)))
    if len(set(rows.y)) == 1:
        raise AbsentError("The readings are all equal, so there is no swing to fit.")


# What to know before trusting the fit


def _warnings(wave: _Wave, fit: Fit, lines: Spectrum, described: SineFit) -> tuple[FitWarning, ...]:
    tests = (
        _few_cycles(wave, described),
        _few_per_turn(described, lines),
        _search_limited(wave, lines),
        _ambiguous(described),
        _no_signal(wave, fit, lines),
        _no_decay(wave, described),
        _far_start(described),
    )
    return tuple(warning for warning in tests if warning)


def _few_cycles(wave: _Wave, described: SineFit) -> FitWarning | None:
    if wave.fixed is not None or described.cycles >= FEWEST_CYCLES:
        return None
    return FitWarning(
        "few-cycles",
        f"The readings span only {described.cycles:.2f} turns, too few to tell swing, offset and frequency "
        "well apart; record for longer.",
    )


def _few_per_turn(described: SineFit, lines: Spectrum) -> FitWarning | None:
    per_turn = 2 * lines.nyquist / described.frequency
    if per_turn >= 3:
        return None
    return FitWarning(
        "alias",
        f"There are only {per_turn:.1f} readings in a turn, so a faster wave may look just like this one; "
        "read more often.",
    )


def _search_limited(wave: _Wave, lines: Spectrum) -> FitWarning | None:
    if wave.fixed is not None or lines.fastest >= lines.nyquist:
        return None
    return FitWarning("search-limited", f"Waves faster than {lines.fastest:.4g} Hz were not tried.")


def _ambiguous(described: SineFit) -> FitWarning | None:
    if described.rival is None:
        return None
    return FitWarning(
        "ambiguous",
        f"A wave of {described.rival / math.tau:.4g} Hz fits almost as well as this one; "
        "more readings would tell them apart.",
    )


def _no_signal(wave: _Wave, fit: Fit, lines: Spectrum) -> FitWarning | None:
    """Warn if scatter alone would give so good a fit in more than 1 of 100 tries.

    Each independent trial frequency does so with probability (rest/all)^((n - 3)/2).
    """
    rows = wave.rows
    mean = weighted_mean(rows.y, rows.weights)
    squares = dot(rows.weights, [(y - mean) ** 2 for y in rows.y])
    trials = 1 if wave.fixed is not None else max(lines.fastest * wave.span, 1)
    chance = trials * (fit.sum_of_squares / squares) ** ((len(rows) - 3) / 2)
    if chance <= 0.01:
        return None
    return FitWarning("no-signal", "Scatter alone could give such a wave: these readings do not prove a swing.")


def _no_decay(wave: _Wave, described: SineFit) -> FitWarning | None:
    if not wave.damped or described.decay_rate > 2 * described.u_decay_rate:
        return None
    return FitWarning("no-decay", "The decay is within its uncertainty: these readings do not prove one.")


def _far_start(described: SineFit) -> FitWarning | None:
    if described.u_phase <= 1:
        return None
    return FitWarning("far-start", "The phase at t = 0 is lost: start the clock within or just before the readings.")
