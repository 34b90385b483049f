"""How far long work is, where there is no terminal."""

from floorapp.steps_shown import better_plans_shown, steps_shown
from models.plan.progress import SoFar
from tests.held_clock import HeldClock
from tests.sample_jobs import crew_vest_plan


def test_long_work_tells_ten_lines_on_standard_error(capsys):
    with steps_shown("Tags") as shown:
        for done in range(1, 2001):
            shown(done, 2000)
    told = capsys.readouterr()
    assert told.err.splitlines() == [f"Tags: {done} of 2000" for done in range(200, 2001, 200)]
    assert told.out == ""


def test_short_work_tells_each_step_once(capsys):
    with steps_shown("Tags") as shown:
        shown(1, 2)
        shown(2, 2)
    assert capsys.readouterr().err.splitlines() == ["Tags: 1 of 2", "Tags: 2 of 2"]


def test_quick_planning_is_silent(capsys):
    clock = HeldClock()
    tell = better_plans_shown(clock)
    clock.advance(1.9)
    tell(SoFar(crew_vest_plan()))
    assert capsys.readouterr().err == ""


def test_planning_that_takes_long_tells_each_better_plan(capsys):
    clock = HeldClock()
    tell = better_plans_shown(clock)
    clock.advance(2.1)
    tell(SoFar(crew_vest_plan()))
    assert capsys.readouterr().err == "so far 2 hits; at least 2 are needed\n"


def test_planning_of_sizes_tells_which_one_it_is_at_and_which_are_to_come(capsys):
    clock = HeldClock()
    tell = better_plans_shown(clock)
    clock.advance(2.1)
    tell(SoFar(crew_vest_plan(), sizes=("M",), to_come=("S", "L")))
    assert capsys.readouterr().err == (
        "so far 2 hits for size M; at least 2 are needed; then sizes S and L\n"
    )


def test_planning_that_seeks_one_sequence_for_more_sizes_says_so(capsys):
    clock = HeldClock()
    tell = better_plans_shown(clock)
    clock.advance(2.1)
    tell(SoFar(crew_vest_plan(), sizes=("M", "L"), are_alike=True))
    assert capsys.readouterr().err == "so far 2 hits for sizes M and L alike; at least 2 are needed\n"
