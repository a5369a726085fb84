"""Response times against published values and an independent library."""

import warnings

import numpy as np
import pytest
from numpy.typing import NDArray

from county.domain.survival import Outcome, incidence, kaplan_meier, percentile, restricted_mean

# Freireich et al., Blood 21 (1963): weeks in remission, and whether the remission was seen to end
MERCAPTOPURINE = (6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35)
ENDED = (1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0)
PLACEBO = (1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23)
ALL = (1,) * 21


def test_the_survival_of_the_6_mp_arm_is_as_published() -> None:
    curve = kaplan_meier(MERCAPTOPURINE, ENDED)
    assert list(curve.minutes) == [6, 7, 10, 13, 16, 22, 23]
    assert curve.unreached == pytest.approx(
        (0.857143, 0.806723, 0.752941, 0.690196, 0.627451, 0.537815, 0.448179), abs=5e-7
    )


def test_the_median_of_the_6_mp_arm_is_23_and_its_90th_percentile_is_not_reached() -> None:
    curve = kaplan_meier(MERCAPTOPURINE, ENDED)
    assert percentile(curve, 0.5).minutes == 23
    ninetieth = percentile(curve, 0.9)
    assert ninetieth.minutes is None
    assert str(ninetieth) == "more than 35"


def test_the_restricted_mean_of_the_6_mp_arm_and_its_standard_error_are_as_published() -> None:
    mean = restricted_mean(MERCAPTOPURINE, ENDED, to=35)
    assert mean is not None
    assert mean.minutes == pytest.approx(23.287394958, abs=5e-10)
    assert mean.standard_error == pytest.approx(2.827467623, abs=5e-10)


def test_the_placebo_arm_has_median_8_and_90th_percentile_17() -> None:
    curve = kaplan_meier(PLACEBO, ALL)
    assert (percentile(curve, 0.5).minutes, percentile(curve, 0.9).minutes) == (8, 17)


def test_the_90th_percentile_of_ten_values_is_the_ninth() -> None:
    """Nearest rank, as fire and ambulance services report fractiles (NFPA 1710): numpy calls it inverted_cdf."""
    values = (3, 4, 5, 6, 7, 8, 9, 10, 12, 20)
    assert percentile(kaplan_meier(values, (1,) * 10), 0.9).minutes == 12
    assert np.percentile(values, 90, method="inverted_cdf") == 12


@pytest.mark.parametrize("count", [1, 2, 9, 10, 11, 37, 100, 1000])
@pytest.mark.parametrize("share", [0.1, 0.25, 0.5, 0.9, 0.99])
def test_with_nothing_censored_percentiles_are_those_of_nearest_rank(count: int, share: float) -> None:
    """The product of shares carries rounding errors, so an exact 0.1 must be seen as one; ranks in whole numbers."""
    values = np.random.default_rng(count).permutation(np.arange(1.0, count + 1))
    rank = -(-round(share * 100) * count // 100)
    assert percentile(kaplan_meier(values, (1,) * count), share).minutes == max(rank, 1)


@pytest.mark.parametrize("seed", range(6))
def test_kaplan_meier_and_greenwood_are_those_of_lifelines_on_random_censored_data(seed: int) -> None:
    fitters = pytest.importorskip("lifelines", reason="lifelines is not installed")
    waits, ends = _random_waits(seed, outcomes=2)
    curve = kaplan_meier(waits, ends)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fitted = fitters.KaplanMeierFitter().fit(waits, ends)
        theirs = fitted.survival_function_at_times(curve.minutes).to_numpy()
        median = float(fitted.median_survival_time_)
        steps = fitted._cumulative_sq_
    assert curve.unreached == pytest.approx(theirs, abs=1e-12)
    below_all = [m for m, s in zip(curve.minutes, curve.unreached, strict=True) if s > 1e-9]
    greenwood = [theirs[i] ** 2 * float(steps.loc[minute]) for i, minute in enumerate(below_all)]
    assert curve.variance[: len(below_all)] == pytest.approx(greenwood, rel=1e-9)
    assert percentile(curve, 0.5).minutes == (median if np.isfinite(median) else None)


@pytest.mark.parametrize("seed", range(6))
def test_aalen_johansen_is_that_of_lifelines_where_cases_are_also_withdrawn(seed: int) -> None:
    fitters = pytest.importorskip("lifelines", reason="lifelines is not installed")
    waits, ends = _random_waits(seed, outcomes=3)
    waits = waits + np.random.default_rng(seed).permutation(len(waits)) * 1e-6  # theirs moves ties at random
    curve = incidence(waits, ends)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fitted = fitters.AalenJohansenFitter(calculate_variance=True).fit(
            waits, ends, event_of_interest=Outcome.REACHED
        )
    reached = fitted.cumulative_density_.iloc[:, 0].loc[list(curve.minutes)].to_numpy()
    assert curve.unreached == pytest.approx(1 - reached, abs=1e-12)
    assert curve.variance == pytest.approx(fitted.variance_.loc[list(curve.minutes)].to_numpy(), rel=1e-6)


def _random_waits(seed: int, outcomes: int) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    draw = np.random.default_rng(seed)
    count = int(draw.integers(5, 300))
    return np.ceil(draw.lognormal(3, 0.8, count)), draw.integers(0, outcomes, count)
