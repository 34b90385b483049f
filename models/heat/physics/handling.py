"""How warm a thing may be to touch it with bare skin for so long.

Below these temperatures no burn of healthy adult skin is expected in steady contact; they are the low ends of
the bands of ISO 13732-1 as public sources repeat them, the times up to 10 s in part from memory. They
are no leave to go without gloves: the garment's temperature is an estimate, and local rules stand above it.
"""

from models.errors import CalculationError

METAL_C = {1: 65.0, 2: 60.0, 5: 56.0, 10: 55.0, 60: 51.0, 600: 48.0, 28_800: 43.0}
"""Bare metal: zips, snaps, the platen."""
PLASTIC_C = {1: 85.0, 2: 80.0, 5: 74.0, 10: 71.0, 60: 60.0, 600: 48.0, 28_800: 43.0}
"""Dense plastic: films and carriers. Open textile lies higher up to 10 s and the same from a minute on."""


def touchable_c(contact_s: float, thresholds_c: dict[int, float]) -> float:
    """The threshold for the shortest listed contact that is no shorter than `contact_s` [°C].

    Raises:
        CalculationError: no threshold is listed for so long.

    >>> touchable_c(60, PLASTIC_C)
    60.0
    """
    for listed_s, threshold_c in sorted(thresholds_c.items()):
        if contact_s <= listed_s:
            return threshold_c
    raise CalculationError(f"no contact of {contact_s:.0f} s is listed: the longest is 8 hours")


WARM_PEEL_C = touchable_c(60, PLASTIC_C)
"""Warm: a carrier can be held for the minute that a peel takes (common practice, no source)."""
COLD_PEEL_C = touchable_c(28_800, PLASTIC_C)
"""Cold: it can be held for as long as one likes, and the adhesive has set (common practice, no source)."""
BARE_HANDS_C = touchable_c(60, METAL_C)
"""A garment with metal parts can be taken in bare hands for a minute."""
