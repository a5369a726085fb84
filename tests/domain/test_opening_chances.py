"""The random part of the forecast against closed forms, numerical integration and what is known of lognormals."""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ndtr

from county.domain.opening_chances import DRAWS, longer, normal_update, percentiles, shared, survival

UNIFORM = (np.arange(20_000) + 0.5) / 20_000


def density(minutes: float, median: float, sigma: float) -> float:
    """A lognormal's density, as in any textbook."""
    z = math.log(minutes / median) / sigma
    return math.exp(-z * z / 2) / (minutes * sigma * math.sqrt(2 * math.pi))


@pytest.mark.parametrize("spent", [0.0, 2.0, 5.0, 20.0])
@pytest.mark.parametrize(("median", "sigma"), [(5.0, 0.4), (15.0, 0.25), (2.0, 0.8)])
def test_survival_is_the_integral_of_the_density(spent: float, median: float, sigma: float) -> None:
    integral, _ = quad(density, spent, np.inf, args=(median, sigma), points=None)
    assert float(survival(np.array(spent), median, sigma)) == pytest.approx(integral, abs=1e-6)


def test_a_step_not_begun_has_survived() -> None:
    assert list(survival(np.array([-3.0, 0.0]), 5.0, 0.4)) == [1.0, 1.0]


@pytest.mark.parametrize("spent", [1.0, 5.0, 9.0, 14.0])
@pytest.mark.parametrize(("median", "sigma"), [(5.0, 0.4), (4.0, 0.7)])
def test_the_mean_of_what_is_longer_is_the_closed_form_and_nothing_is_shorter(
    spent: float, median: float, sigma: float
) -> None:
    left = survival(np.array(spent), median, sigma)
    drawn = median * np.exp(sigma * longer(UNIFORM, left))
    assert drawn.min() >= spent
    # E[X | X > s] of a lognormal: median·exp(sigma²/2)·Φ(sigma - a) ÷ Φ(-a), a = ln(s/median)/sigma
    a = math.log(spent / median) / sigma
    mean = median * math.exp(sigma**2 / 2) * ndtr(sigma - a) / ndtr(-a)
    assert drawn.mean() == pytest.approx(mean, rel=0.005)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_its_percentiles_agree_with_numerical_integration(share: float) -> None:
    spent, median, sigma = 7.0, 5.0, 0.4
    drawn = median * np.exp(sigma * longer(UNIFORM, survival(np.array(spent), median, sigma)))
    at = float(np.quantile(drawn, share))
    above, _ = quad(density, at, np.inf, args=(median, sigma))
    of_all, _ = quad(density, spent, np.inf, args=(median, sigma))
    assert above / of_all == pytest.approx(1 - share, abs=2e-3)


def test_far_in_the_tail_it_stays_finite_and_just_above_the_time_spent() -> None:
    left = survival(np.array(600.0), 5.0, 0.4)
    drawn = 5.0 * np.exp(0.4 * longer(np.array([0.01, 0.5, 0.99]), left))
    assert np.isfinite(drawn).all()
    assert (drawn >= 600 * (1 - 1e-9)).all()


def test_the_draws_are_the_same_each_time_and_spread_evenly() -> None:
    shared.cache_clear()
    first = shared(3)
    shared.cache_clear()
    again = shared(3)
    assert np.array_equal(first.steps, again.steps)
    assert first.steps.shape == (3, DRAWS)
    for uniform in (first.which, first.spent, *first.held):
        assert np.allclose(np.sort(uniform), (np.arange(DRAWS) + 0.5) / DRAWS)
    for normal in (first.pace, first.declared, *first.steps, *first.lengths):
        assert abs(normal.mean()) < 1e-9
        assert normal.std() == pytest.approx(1, abs=0.01)
    every = np.vstack([first.pace, first.declared, first.steps, first.lengths])
    off = np.corrcoef(every) - np.eye(len(every))
    assert np.abs(off).max() < 0.25


def test_the_moments_of_a_drawn_lognormal_are_those_of_the_textbook() -> None:
    drawn = 6.0 * np.exp(0.3 * shared(1).steps[0])
    assert np.median(drawn) == pytest.approx(6, rel=0.01)
    assert drawn.mean() == pytest.approx(6 * math.exp(0.3**2 / 2), rel=0.01)
    assert drawn.std() == pytest.approx(drawn.mean() * math.sqrt(math.exp(0.3**2) - 1), rel=0.05)


def test_what_is_told_moves_a_belief_by_how_sure_it_is() -> None:
    means, variances = normal_update(
        np.zeros(3), np.full(3, 0.04), np.array([0.4, 0.4, 9.0]), np.array([0.04, 0.12, np.inf])
    )
    assert means == pytest.approx([0.2, 0.1, 0.0])
    assert variances == pytest.approx([0.02, 0.03, 0.04])


def test_percentiles_are_values_of_the_row_in_order() -> None:
    values = np.random.Generator(np.random.PCG64(3)).lognormal(size=(4, 200))
    found = percentiles(values, (0.1, 0.5, 0.9))
    for row, of in zip(found, values, strict=True):
        assert all(one <= other for one, other in pairwise(row))
        assert [float((of < value).mean()) for value in row] == [0.1, 0.5, 0.9]
