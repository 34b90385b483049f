"""The screens by name."""

from enum import StrEnum


class ScreenName(StrEnum):
    FLOOR = "floor"
    GARMENT = "garment"
    FINDING = "finding"
    REVIEW = "review"
    SET_UP = "set-up"
    CODE_ENTRY = "code entry"
    SECONDS_ENTRY = "seconds entry"
    REASON = "reason"
    REASON_ENTRY = "reason entry"
    WHY = "why"
    PLANNED_HIT = "planned hit"
    WHAT_IF = "what if"
    FIND = "find"
    CHANGE = "change"
    WEARER_ENTRY = "wearer entry"


TELLS_A_FINDING = frozenset({ScreenName.FINDING, ScreenName.REASON, ScreenName.REASON_ENTRY})
"""What was found is kept as long as one of these is shown."""
OF_A_GARMENT = TELLS_A_FINDING | {ScreenName.GARMENT, ScreenName.SECONDS_ENTRY, ScreenName.WHY}
