"""The review without a window: long work elsewhere, and what the computer refuses is told in a line."""

from collections.abc import Callable
from pathlib import Path

import pytest

from floorapp.background import AtOnce, T
from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.review_presenter import review_view
from floorapp.set_up_flow import SetUpFlow
from floorapp.views import Tap, Tone
from models.errors import FloorError
from models.store.store import Store
from tests.floorapp.taps import tap, tap_primary, to_the_check
from tests.floorapp.what_is_told import plain
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on

REFERENCE = "LC-0147"


class LaterOn(AtOnce):
    """Work that waits until a test lets it be done."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        self.waiting.append(lambda: super(LaterOn, self).run(work, done, refused))

    def do_it(self) -> None:
        for job in self.waiting:
            job()
        self.waiting.clear()


@pytest.fixture
def later() -> LaterOn:
    return LaterOn()


@pytest.fixture
def flow(store: Store, clock: HeldClock, tmp_path: Path, later: LaterOn) -> Flow:
    work = flow_on(store, clock, tmp_path).work
    return Flow(work, clock, SetUpFlow(work, later, tmp_path, tmp_path / "out"), later, AtOnce())


def notice_of(flow: Flow) -> str:
    assert flow.notice is not None
    return flow.notice.text


def test_the_review_shows_before_it_is_counted(flow: Flow, later: LaterOn) -> None:
    tap(flow, Tap.TO_REVIEW, REFERENCE)
    at_first = flow.review.review
    later.do_it()

    assert flow.screen == ScreenName.REVIEW
    assert at_first is None
    assert flow.review.review is not None


def test_an_unknown_batch_is_refused_and_the_screen_stays(flow: Flow) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-9999")

    assert "LC-9999" in notice_of(flow)
    assert flow.screen == ScreenName.FLOOR


def test_the_list_is_written_off_the_screens_thread(flow: Flow, later: LaterOn, tmp_path: Path) -> None:
    tap(flow, Tap.WRITE_CSV, REFERENCE)
    target = tmp_path / "out" / f"review-{REFERENCE}.csv"
    at_first = notice_of(flow), target.exists()
    later.do_it()

    assert at_first == ("Writing the list …", False)
    assert notice_of(flow) == f"Written: {target}"
    assert target.read_text(encoding="utf-8-sig").count("\n") == 3


def test_a_list_that_cannot_be_written_is_told(flow: Flow, later: LaterOn, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file where the folder should be")
    tap(flow, Tap.WRITE_CSV, REFERENCE)
    later.do_it()

    assert flow.notice is not None
    assert flow.notice.tone == Tone.ATTENTION
    assert "cannot be written" in flow.notice.text


def test_what_the_computer_refuses_is_a_line_and_the_screen_stays(
    flow: Flow, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lost(_path: str) -> None:
        raise OSError(5, "Input/output error", "/media/stick/jobs")

    monkeypatch.setitem(flow._actions, Tap.OPEN_FOLDER, lost)
    tap(flow, Tap.OPEN_FOLDER, "/media/stick/jobs")

    assert notice_of(flow) == (
        "/media/stick/jobs: Input/output error; see to the disk or folder, then try again"
    )


def test_long_work_that_the_computer_refuses_is_a_line_too() -> None:
    told: list[FloorError] = []

    def full() -> None:
        raise OSError(28, "No space left on device")

    AtOnce().run(full, lambda _: None, told.append)

    assert [str(error) for error in told] == [
        "No space left on device; see to the disk or folder, then try again"
    ]


def test_the_review_tells_lifts_by_how_the_pieces_were_peeled(
    flow: Flow, store: Store, clock: HeldClock, later: LaterOn
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap_primary(flow)
    tap(flow, Tap.TO_REVIEW, REFERENCE)
    later.do_it()

    hot, cold = review_view(flow).lifts
    assert hot.startswith("Glitter film, hot: 0 of 1")
    assert plain(cold) == "Raised foam film, cold: 0 of 1, 0 %; likely 0 to 79 %"
