"""What the Review screen says: how a batch came out, what was found where, and each garment's state."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screens.call_presenter import outlook_words
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.naming import words_in_a_row
from floorapp.screens.remedy_words import STATE_WORDS, remedy_words, state_tone, state_words
from floorapp.screens.words import count_of, listed
from floorapp.views import Action, Button, Header, Tap, Tone
from models.batch.standing import Standing
from models.garment.cycle import State
from models.garment.events import Found
from models.learning.lift_rates import LiftRate
from models.quality.key_figures import KeyFigures
from models.quality.review import GarmentLine, Review, Tally


@dataclass(frozen=True, slots=True)
class Figure:
    """One key figure: its value, its name, and what it was counted from."""

    value: str
    name: str
    basis: str


@dataclass(frozen=True, slots=True)
class Bar:
    """One cause, material or place; `share` is its count over the longest bar's."""

    name: str
    count: int
    share: float


@dataclass(frozen=True, slots=True)
class Bars:
    heading: str
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class GarmentRowView:
    """One garment of the list; `tone` and `state` together say how it stands."""

    name: str
    state: str
    tone: Tone
    told: str
    action: Action
    change: Action


@dataclass(frozen=True, slots=True)
class ReviewView:
    header: Header
    waiting: str
    ends: str
    figures: tuple[Figure, ...]
    sizes: tuple[str, ...]
    bars: tuple[Bars, ...]
    filters: tuple[Button, ...]
    rows: tuple[GarmentRowView, ...]
    choices: tuple[Button, ...]
    lifts: tuple[str, ...] = ()


def review_view(flow: Flow) -> ReviewView:
    choice = flow.review
    name, reference = (choice.head.name, choice.head.reference) if choice.head else ("", "")
    closed = " · closed" if choice.head and choice.head.standing == Standing.CLOSED else ""
    header = header_of(flow, f"Review · {name} · {reference}{closed}")
    choices = (
        Button("List (CSV)", Action(Tap.WRITE_CSV, reference)),
        Button("Print tags", Action(Tap.WRITE_TAGS, reference)),
        Button("What if …", Action(Tap.WHAT_IF, reference)),
        Button("Change …", Action(Tap.CHANGE_BATCH, reference)),
        Button("To the floor", Action(Tap.TO_FLOOR)),
    )
    review = choice.review
    if review is None:
        return ReviewView(header, "Counting the batch's log …", "", (), (), (), (), (), choices)
    return ReviewView(
        header=header,
        waiting="",
        ends=outlook_words(flow, choice.head, review.by_state) if choice.head else "",
        figures=figures_of(review),
        sizes=tuple(size_words(size, by_state) for size, by_state in review.by_size.items()),
        bars=bars_of(review),
        filters=filters_of(review, choice.state),
        rows=tuple(row_of(line) for line in review.garments if is_shown(line, choice.state)),
        choices=choices,
        lifts=lifts_of(review),
    )


def figures_of(review: Review) -> tuple[Figure, ...]:
    figures, by_state = review.figures, review.by_state
    rest = [
        f"{number} {STATE_WORDS.get(state, state.value)}"
        for state, number in by_state.items()
        if number and state != State.COMPLETE
    ]
    for number, words in ((review.remade, "made again"), (review.taken_out, "taken out")):
        rest += [f"{number} {words}"] * bool(number)
    return (
        Figure(
            f"{by_state[State.COMPLETE]}/{review.ordered}", "done of ordered", listed(rest) or "nothing left"
        ),
        Figure(percent(figures.first_pass_yield), "first-pass yield", yield_basis(figures)),
        Figure(percent(figures.rework_ratio), "rework ratio", f"{figures.reworked} pressed again"),
        Figure(percent(figures.scrap_ratio), "scrap ratio", scrap_basis(figures)),
    )


def scrap_basis(figures: KeyFigures) -> str:
    """What the share of spoiled garments was counted from."""
    return f"{figures.spoiled} spoiled of {figures.produced} produced" if figures.produced else "0 spoiled"


def is_shown(line: GarmentLine, state: State | None) -> bool:
    """Whether the filter lets the garment through; one that was taken out is in no state."""
    return state is None or (line.state == state and not line.taken_out)


def yield_basis(figures: KeyFigures) -> str:
    interval = figures.first_pass_interval
    if interval is None:
        return "none has ended yet"
    likely = f"likely {100 * interval.low:.0f} to {percent(interval.high)}"
    return f"{figures.good_first_pass} of {figures.produced} at first; {likely}"


def percent(share: float | None) -> str:
    return "–" if share is None else f"{100 * share:.0f}\N{NO-BREAK SPACE}%"


def size_words(size: str, by_state: dict[State, int]) -> str:
    told = ", ".join(
        f"{number} {STATE_WORDS.get(state, state.value)}" for state, number in by_state.items() if number
    )
    return f"{size}: {told}"


def bars_of(review: Review) -> tuple[Bars, ...]:
    ranked = (
        Bars("What was found", scaled(review.by_kind)),
        Bars("On which material", scaled(review.by_material)),
        Bars("In which place", scaled(review.by_place)),
    )
    return tuple(ranking for ranking in ranked if ranking.bars)


def scaled(tallies: tuple[Tally, ...]) -> tuple[Bar, ...]:
    longest = max((tally.count for tally in tallies), default=1)
    return tuple(Bar(tally.name, tally.count, tally.count / longest) for tally in tallies)


def lifts_of(review: Review) -> tuple[str, ...]:
    """Those of the batch, and of all batches on its fabric where there are several."""
    own = tuple(map(lift_words, review.lift_rates))
    lifts = review.lifts_on_fabric
    if lifts is None or lifts.batches < 2:
        return own
    return (*own, f"{lifts.fabric}, over {lifts.batches} batches:", *map(lift_words, lifts.rates))


def lift_words(rate: LiftRate) -> str:
    """How often pieces of one material lifted that were peeled so, to be held against the other ways."""
    likely = f"likely {100 * rate.interval.low:.0f} to {percent(rate.interval.high)}"
    return f"{rate.material}, {rate.how.value}: {rate.lifted} of {rate.of}, {percent(rate.share)}; {likely}"


def filters_of(review: Review, chosen: State | None) -> tuple[Button, ...]:
    """A button for each state that any garment is in, and one for all of them."""
    every = Button(f"all {len(review.garments)}", Action(Tap.FILTER), is_chosen=chosen is None)
    some = tuple(
        Button(
            f"{STATE_WORDS.get(state, state.value)} {number}",
            Action(Tap.FILTER, state.value),
            is_chosen=chosen == state,
        )
        for state, number in review.by_state.items()
        if number
    )
    return (every, *some)


def row_of(line: GarmentLine) -> GarmentRowView:
    told = (f"{line.hits_done} of its hits done",) if line.state not in {State.COMPLETE, State.IDLE} else ()
    extra = (count_of(line.extra_hits, "extra hit"),) if line.extra_hits else ()
    faulty = (f"{count_of(len(line.faulty), 'piece')} not right",) if line.faulty else ()
    return GarmentRowView(
        name=words_in_a_row(line),
        state=state_words(line),
        tone=line_tone(line),
        told=" · ".join(
            (*told, *faulty, *extra, *remedy_words(line), *(found_words(found) for found in line.findings))
        ),
        action=Action(Tap.LOOK_AT_GARMENT, line.code),
        change=Action(Tap.CHANGE_GARMENT, line.code),
    )


def line_tone(line: GarmentLine) -> Tone:
    """Return the tone of the garment's state; one that is done and not all right has no tick."""
    let_go = line.state == State.COMPLETE and line.faulty and not line.taken_out
    return Tone.ATTENTION if let_go else state_tone(line)


def found_words(found: Found) -> str:
    return f"{found.kind.value}: {count_of(len(found.pieces), 'piece')}"
