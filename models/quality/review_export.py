"""The review as JSON and as CSV, for other programs and for spreadsheets."""

import csv
from collections.abc import Iterator, Sequence
from datetime import datetime
from io import StringIO
from typing import Any

from models.garment.events import Found
from models.learning.lift_rates import LiftRate
from models.quality.csv_cells import text_cell
from models.quality.key_figures import KeyFigures
from models.quality.review import GarmentLine, LiftsOnFabric, Review, Tally

JSON_FORMAT = 1

CSV_HEADING = (
    "n", "code", "size", "wearer", "number", "state", "hits done", "extra hits", "findings",
    "seconds pressed", "first taken up", "ended at", "made again for", "made again as", "taken out",
)  # fmt: skip


def review_to_json(review: Review) -> dict[str, Any]:
    return {
        "format": JSON_FORMAT,
        "ordered": review.ordered,
        "remade": review.remade,
        "taken_out": review.taken_out,
        "by_state": dict(review.by_state),
        "by_size": {size: dict(counts) for size, counts in review.by_size.items()},
        "key_figures": _figures_to_json(review.figures),
        "findings": {
            "by_kind": _tallies_to_json(review.by_kind),
            "by_material": _tallies_to_json(review.by_material),
            "by_place": _tallies_to_json(review.by_place),
        },
        "lift_rates": [_lift_rate_to_json(rate) for rate in review.lift_rates],
        "lift_rates_on_fabric": _lifts_on_fabric_to_json(review.lifts_on_fabric),
        "garments": [_line_to_json(line) for line in review.garments],
    }


def review_to_csv(review: Review) -> str:
    """One line a garment under a heading; instants are UTC in ISO 8601.

    No cell begins a formula: `csv_cells.written_in` gives a cell back as the roster had it.
    """
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(CSV_HEADING)
    writer.writerows(csv_rows(review))
    return text.getvalue()


def review_csv_file(review: Review) -> bytes:
    """The content of a CSV file: UTF-8 with the mark that tells a spreadsheet so."""
    return review_to_csv(review).encode("utf-8-sig")


def csv_rows(review: Review) -> Iterator[tuple[str, ...]]:
    for line in review.garments:
        cells = (
            line.n, line.code, line.size, line.wearer, line.number, line.state, line.hits_done,
            line.extra_hits, findings_in_words(line.findings), line.pressed_s,
            _instant(line.first_taken_up_at), _instant(line.ended_at), line.remake_of, line.remade_as,
            line.taken_out,
        )  # fmt: skip
        yield tuple(text_cell(str("" if cell is None else cell)) for cell in cells)


def findings_in_words(findings: Sequence[Found]) -> str:
    """Each finding with its pieces, in the order in which they were made.

    >>> from models.garment.events import FindingKind
    >>> findings_in_words([Found(FindingKind.LIFT, ("anchor", "wave")), Found(FindingKind.SCORCH, ())])
    'lift (anchor, wave); scorch'
    """
    return "; ".join(
        f"{found.kind} ({', '.join(found.pieces)})" if found.pieces else found.kind.value
        for found in findings
    )


def _figures_to_json(figures: KeyFigures) -> dict[str, Any]:
    interval = figures.first_pass_interval
    return {
        "produced": figures.produced,
        "good_first_pass": figures.good_first_pass,
        "reworked": figures.reworked,
        "spoiled": figures.spoiled,
        "first_pass_yield": figures.first_pass_yield,
        "first_pass_yield_95": [interval.low, interval.high] if interval else None,
        "rework_ratio": figures.rework_ratio,
        "scrap_ratio": figures.scrap_ratio,
    }


def _tallies_to_json(tallies: Sequence[Tally]) -> dict[str, int]:
    return {tally.name: tally.count for tally in tallies}


def _lifts_on_fabric_to_json(lifts: LiftsOnFabric | None) -> dict[str, Any] | None:
    if lifts is None:
        return None
    return {"batches": lifts.batches, "rates": [_lift_rate_to_json(rate) for rate in lifts.rates]}


def _lift_rate_to_json(rate: LiftRate) -> dict[str, Any]:
    return {
        "material": rate.material,
        "fabric": rate.fabric,
        "peeled": rate.how,
        "pieces": rate.of,
        "lifted": rate.lifted,
        "share": rate.share,
        "share_95": [rate.interval.low, rate.interval.high],
    }


def _line_to_json(line: GarmentLine) -> dict[str, Any]:
    return {
        "n": line.n,
        "code": line.code,
        "size": line.size,
        "wearer": line.wearer,
        "number": line.number,
        "state": line.state,
        "hits_done": line.hits_done,
        "extra_hits": line.extra_hits,
        "findings": [{"kind": f.kind, "pieces": list(f.pieces)} for f in line.findings],
        "pressed_s": line.pressed_s,
        "first_taken_up_at": _instant(line.first_taken_up_at),
        "ended_at": _instant(line.ended_at),
        "remake_of": line.remake_of,
        "remade_as": line.remade_as,
        "taken_out": line.taken_out,
    }


def _instant(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat(timespec="seconds")
