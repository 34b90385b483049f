"""The likely properties of each substance stand inside the ranges that published tables give for it.

W. E. Morton and J. W. S. Hearle, Physical Properties of Textile Fibres, Table 6.1 and chapter 6 (fibre pads,
dry specific heats); Springer Handbook of Condensed Matter, Table 3.3-13 (fluoropolymer); the polymer tables
of a laboratory for thermal analysis (polyurethane, ethylene-vinyl acetate); measured silicone sheets (0.224
to 0.249 W/mK, which foam has to stay below). Densities and foams: from memory, no source.
"""

import pytest

from models.heat.layup import substances
from models.heat.layup.substances import (
    ADHESIVE,
    CARRIER,
    COVER_SHEET,
    FABRIC_CONDUCTIVITY,
    FABRIC_HEAT,
    FILM,
    FOAM,
    SILICONE_FOAM,
    TEXTILE,
    Substance,
)

CONDUCTIVITIES = [  # published range [W/mK]
    (COVER_SHEET, 0.25, 0.26),
    (CARRIER, 0.19, 0.29),
    (ADHESIVE, 0.19, 0.35),
    (FILM, 0.19, 0.35),
    (TEXTILE, 0.071, 0.14),  # between a loose pad of cotton and solid polyester
]
SPECIFIC_HEATS = [  # published range [J/kgK]
    (COVER_SHEET, 1000, 1200),
    (CARRIER, 1000, 1500),
    (ADHESIVE, 1850, 2300),
    (FILM, 1850, 2300),
    (TEXTILE, 1030, 1350),
]
ALL = [value for value in vars(substances).values() if isinstance(value, Substance)]


@pytest.mark.parametrize(("substance", "low", "high"), CONDUCTIVITIES)
def test_the_likely_conductivity_is_a_published_one(substance, low, high):
    assert low <= substance.conductivity_w_per_mk.likely <= high


@pytest.mark.parametrize(("substance", "low", "high"), SPECIFIC_HEATS)
def test_the_likely_specific_heat_is_a_published_one(substance, low, high):
    assert low <= substance.heat_j_per_kgk.likely <= high


@pytest.mark.parametrize("foam", [FOAM, SILICONE_FOAM])
def test_a_foam_leads_less_heat_than_the_solid_it_is_blown_from(foam):
    assert foam.conductivity_w_per_mk.high < 0.224


def test_cloth_is_taken_for_a_pad_of_fibres():
    assert 0.071 <= FABRIC_CONDUCTIVITY.likely <= 0.084
    assert 1030 <= FABRIC_HEAT.likely <= 1430


@pytest.mark.parametrize("substance", ALL, ids=lambda substance: substance.name)
def test_every_substance_says_where_it_is_from_and_how_sure_it_is(substance):
    assert substance.source
    for known in (substance.conductivity_w_per_mk, substance.density_kg_per_m3, substance.heat_j_per_kgk):
        assert 0 < known.low < known.high
