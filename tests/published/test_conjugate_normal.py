"""The learned factor against the posterior itself, and its update against A. Gelman et al.

Bayesian Data Analysis, 3rd edition, section 3.3: with the normal-inverse-gamma prior (mean m, weight w,
shape a, scale b), n observations of mean y and sum of squares s give weight w + n, mean
(w m + n y) / (w + n), shape a + n / 2, scale b + s / 2 + w n (y - m)² / 2 (w + n). From memory; so the
posterior is summed on a grid as well.
"""

import numpy as np
import pytest
from scipy.stats import invgamma, norm

from models.learning.learned import Belief

SEEN = (0.31, 0.12, 0.25, 0.40, 0.18)


def taught() -> Belief:
    belief = Belief()
    for log_ratio in SEEN:
        belief = belief.after(log_ratio)
    return belief


def test_one_after_the_other_they_give_the_closed_form_of_all_together():
    prior, n = Belief(), len(SEEN)
    mean, squares = np.mean(SEEN), np.var(SEEN) * n
    belief = taught()
    weight = prior.weight + n
    assert belief.n == n
    assert belief.weight == pytest.approx(weight)
    assert belief.mean == pytest.approx((prior.weight * prior.mean + n * mean) / weight)
    assert belief.shape == pytest.approx(prior.shape + n / 2)
    off = prior.weight * n * (mean - prior.mean) ** 2 / weight
    assert belief.scale == pytest.approx(prior.scale + squares / 2 + off / 2)


def test_mean_doubt_and_scatter_are_those_of_the_posterior_summed_on_a_grid():
    prior = Belief()
    means = np.linspace(-1.5, 1.5, 801)[:, None]
    variances = np.geomspace(1e-3, 2.0, 801)[None, :]
    density = invgamma.pdf(variances, prior.shape, scale=prior.scale)
    density = density * norm.pdf(means, prior.mean, np.sqrt(variances / prior.weight))
    for log_ratio in SEEN:
        density = density * norm.pdf(log_ratio, means, np.sqrt(variances))
    density = density * variances  # the grid is even in the logarithm of the variance
    density /= density.sum()
    mean = (density * means).sum()
    assert taught().mean == pytest.approx(mean, abs=1e-3)
    assert taught().doubt == pytest.approx(np.sqrt((density * (means - mean) ** 2).sum()), rel=5e-3)
    assert taught().scatter == pytest.approx(np.sqrt((density * variances).sum()), rel=5e-3)
