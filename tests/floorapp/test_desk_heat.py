"""Heat in the real window, both ways up: asked by touch, worked out in a thread, looked at in Set-up."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from shutil import copytree
from time import monotonic, sleep

import pytest

from floorapp.screen_names import ScreenName
from floorapp.screens.heat_presenter import WORKING
from floorapp.screens.words import PLACE_WORDS
from floorapp.views import Action, NoticeView, Tap, Tone
from models.demo import demo_job_path, second_demo_job_path
from models.heat.estimates.heat_findings import heat_findings
from models.recipe.places import Place
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.put_off import PutOff
from tests.sample_jobs import crew_vest_job, crew_vest_plan
from tests.small_floor import codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SitDown = Callable[..., PressOperator]


def plots_of(operator: PressOperator) -> list:
    from floorapp.widgets.heat_curve import CurvePlot

    screen = operator.desk.screens[operator.flow.screen]
    return [part for part in screen.walk(restrict=True) if isinstance(part, CurvePlot)]


@SIZES
def test_one_tap_from_the_hit_both_curves_are_on_the_screen(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    from floorapp.theme import to_mm

    operator.scan(codes_of(store)[0])
    operator.tap("Why these together?")
    plots = plots_of(operator)

    assert [bool(plot.view.points) for plot in plots] == [True, True]
    for plot in plots:
        box = plot.plot
        assert box.x >= 0
        assert box.right <= size[0]
        assert min(to_mm(box.width), to_mm(box.height)) >= 30
    assert operator.sees("Heat, an estimate")
    assert operator.sees("The material maker's sheet and your local rules come first")


@SIZES
@pytest.mark.parametrize("place", list(Place))
def test_the_heading_of_a_cooling_curve_is_whole_wherever_the_garment_rests(
    sit_down: SitDown, store: Store, size: tuple[int, int], place: Place
) -> None:
    operator = sit_down(size)
    from floorapp.widgets.heat_curve import HeatCurve

    operator.scan(codes_of(store)[0])
    operator.tap("Why these together?")
    screen = operator.desk.screens[operator.flow.screen]
    curve = [part for part in screen.walk(restrict=True) if isinstance(part, HeatCurve)][1]
    curve.view = replace(curve.view, heading=PLACE_WORDS[place].capitalize())
    operator.driver.frames(3)
    heading = curve.ids.heading

    assert heading.words == curve.view.heading
    assert not heading.is_shortened


@SIZES
def test_reasons_that_go_on_below_are_told_by_a_sign(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    operator.tap("Why these together?")
    told = operator.desk.screens[operator.flow.screen].ids.told
    before = told.goes_on
    told.scroll_y = 0
    operator.driver.frames(2)

    assert (before, told.goes_on) == (True, False)


def test_until_the_heat_is_there_the_reasons_are_and_the_foot_switch_leads_back(
    sit_down: SitDown, store: Store
) -> None:
    operator = sit_down()
    operator.flow.why.background = PutOff()
    operator.scan(codes_of(store)[0])
    operator.tap("Why these together?")

    assert [plot.view.waiting for plot in plots_of(operator)] == [WORKING, WORKING]
    assert operator.sees("All three pieces share one setting")
    operator.step_on_the_switch()
    assert operator.flow.screen == ScreenName.GARMENT


def test_it_is_worked_out_in_a_thread_of_its_own(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    from floorapp.screen_thread import ScreenThread

    operator.flow.why.background = ScreenThread()
    operator.scan(codes_of(store)[0])
    operator.tap("Why these together?")
    until = monotonic() + 20
    while not plots_of(operator)[0].view.points and monotonic() < until:
        operator.driver.advance(0.1, draw=True)
        sleep(0.01)  # real time, in which the thread works

    assert all(plot.view.points for plot in plots_of(operator))


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder with the demo's job files, one of them in too much of a hurry."""
    folder = Path(copytree(demo_job_path().parent, tmp_path / "jobs"))
    text = second_demo_job_path().read_text(encoding="utf-8")
    (folder / "hurried.toml").write_text(text.replace("least = 10", "least = 3"), encoding="utf-8")
    return folder


@pytest.fixture
def set_up(sit_down: SitDown, jobs: Path) -> Callable[[tuple[int, int]], PressOperator]:
    """A person before the Set-up screen, the hurried job chosen."""

    def begin(size: tuple[int, int]) -> PressOperator:
        operator = sit_down(size)
        for action in (
            Action(Tap.TO_SET_UP),
            Action(Tap.OPEN_FOLDER, str(jobs)),
            Action(Tap.CHOOSE_FILE, str(jobs / "hurried.toml")),
        ):
            operator.driver.advance(0.5)
            operator.desk.act(action)
        operator.driver.frames(6)
        return operator

    return begin


@SIZES
def test_set_up_tells_what_gets_too_little_heat_before_anything_is_loaded(
    set_up: Callable[[tuple[int, int]], PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = set_up(size)
    from floorapp.widgets.signs import Sign

    signs = [w.name for w in operator.desk.screens[ScreenName.SET_UP].walk() if isinstance(w, Sign)]

    assert operator.sees("Too little time at heat")
    assert operator.sees("of the 3 s that it wants")
    assert operator.sees("too little heat")
    assert "caution" in signs
    assert len(store.batches()) == 1


@SIZES
def test_a_hit_that_is_tapped_in_set_up_opens_its_page(
    set_up: Callable[[tuple[int, int]], PressOperator], size: tuple[int, int]
) -> None:
    operator = set_up(size)
    from floorapp.screens.set_up import HitMap
    from floorapp.theme import TARGET_MM, to_mm

    hits = [w for w in operator.desk.screens[ScreenName.SET_UP].walk() if isinstance(w, HitMap)]
    assert all(min(to_mm(hit.width), to_mm(hit.height)) >= TARGET_MM for hit in hits)
    operator.driver.advance(0.5)
    x, top = hits[0].to_window(hits[0].center_x, hits[0].top)
    operator.driver.touch(x, top - 30)
    operator.driver.frames(4)

    assert operator.flow.screen == ScreenName.PLANNED_HIT
    assert [bool(plot.view.points) for plot in plots_of(operator)] == [True, True]
    operator.driver.advance(0.5)
    operator.tap("Back")
    assert operator.flow.screen == ScreenName.SET_UP
    assert operator.sees("Load the batch")


@SIZES
def test_the_chosen_file_is_seen_however_many_stand_before_it(
    sit_down: SitDown, jobs: Path, size: tuple[int, int]
) -> None:
    for n in range(9):
        (jobs / f"a-{n}.toml").write_text("format = 1", encoding="utf-8")
    operator = sit_down(size)
    for action in (
        Action(Tap.TO_SET_UP),
        Action(Tap.OPEN_FOLDER, str(jobs)),
        Action(Tap.CHOOSE_FILE, str(jobs / "hurried.toml")),
    ):
        operator.driver.advance(0.5)
        operator.desk.act(action)
    operator.driver.frames(6)
    chosen = operator.target("hurried.toml")
    rows = operator.desk.screens[ScreenName.SET_UP].ids.rows

    def is_seen() -> bool:
        bottom, top = chosen.to_window(0, chosen.y)[1], chosen.to_window(0, chosen.top)[1]
        foot = rows.to_window(0, rows.y)[1] + rows.sign_px
        return bool(foot <= bottom + 1 and top <= rows.to_window(0, rows.top)[1] + 1)

    assert is_seen()
    operator.flow.notice = NoticeView("a notice that takes room from the list", Tone.ATTENTION)
    operator.desk.draw()
    operator.driver.frames(6)
    assert is_seen()


def test_the_card_of_a_hit_tells_in_a_line_with_its_sign_what_is_short(
    sit_down: SitDown, store: Store
) -> None:
    job, plan = replace(crew_vest_job(), reference="LC-0150"), crew_vest_plan()
    hurried = replace(plan, hits=(replace(plan.hits[0], dwell_s=5), plan.hits[1]))
    store.add_batch(job, hurried, heat_findings(job, hurried))
    operator = sit_down()
    from floorapp.widgets.cards import CautionLine

    operator.scan(store.garments("LC-0150")[0].code)
    lines = [w for w in operator.desk.screens[ScreenName.GARMENT].walk() if isinstance(w, CautionLine)]
    shown = [line for line in lines if line.opacity and "Too little heat" in line.words]

    assert len(shown) == 1
    assert "anchor " in shown[0].words
    assert shown[0].height > 0
