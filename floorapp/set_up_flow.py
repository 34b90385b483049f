"""Set-up without a window: find a job file, see its plan or its faults, load it, write its tags."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path

from floorapp.background import Background
from floorapp.planned_job import PlannedJob, read_and_plan
from models.errors import FloorError
from models.floor.work import FloorWork
from models.plan.progress import SoFar
from models.quality.review_export import review_csv_file
from models.store.records import BatchHead

JOB_ENDINGS = frozenset({".toml", ".json"})


class SetUpPhase(StrEnum):
    CHOOSING = "choosing"
    READING = "reading"
    REFUSED = "refused"
    PLANNED = "planned"
    LOADED = "loaded"
    WRITING = "writing"
    WRITTEN = "written"
    UNWRITTEN = "unwritten"


@dataclass(frozen=True, slots=True)
class Entry:
    """A row of the folder: a job file, or a folder to look into."""

    path: Path
    text: str
    is_folder: bool


@dataclass(eq=False, slots=True)
class Planning:
    """The planning of one chosen file. Only the last one chosen is told about; the others end soon."""

    is_stopped: bool = False


@dataclass(frozen=True, slots=True)
class SetUpState:
    phase: SetUpPhase = SetUpPhase.CHOOSING
    folder: Path = field(default_factory=Path)
    entries: tuple[Entry, ...] = ()
    chosen: Path | None = None
    planned: PlannedJob | None = None
    refusal: tuple[str, ...] = ()
    batch: BatchHead | None = None
    paper: str = "a4"
    progress: str = ""
    written: Path | None = None


class SetUpFlow:
    """`out` is the folder where tags and lists are written."""

    def __init__(self, work: FloorWork, background: Background, folder: Path, out: Path) -> None:
        self.work = work
        self.background = background
        self.out = out
        self.state = SetUpState(folder=folder)
        self.changed: Callable[[], None] = lambda: None
        self.planning = Planning()

    def enter(self) -> None:
        """Looks at the folder anew; work that is going on is left alone."""
        if self.state.phase not in {SetUpPhase.READING, SetUpPhase.WRITING}:
            self.look_into(str(self.state.folder))

    def look_into(self, path: str) -> None:
        """Shows a folder, and forgets what was being set up; tags that are being written are waited for."""
        if self.state.phase == SetUpPhase.WRITING:
            return
        self._plans_anew()
        folder = Path(path)
        self.state = SetUpState(folder=folder, entries=entries_of(folder), paper=self.state.paper)
        self.changed()

    def choose(self, path: str) -> None:
        """Reads and plans a job file off the screen's thread, in place of one that is being planned."""
        if self.state.phase == SetUpPhase.WRITING:
            return
        chosen, planning = Path(path), self._plans_anew()
        self._now(phase=SetUpPhase.READING, chosen=chosen, progress="Reading the job and planning its hits …")
        self.background.run(
            lambda: read_and_plan(
                chosen,
                progress=lambda so_far: self._tell_plan(planning, so_far),
                stop=lambda: planning.is_stopped,
            ),
            lambda planned: self._now_of(
                planning, phase=SetUpPhase.PLANNED, planned=planned, refusal=(), progress=""
            ),
            lambda error: self._now_of(
                planning, phase=SetUpPhase.REFUSED, planned=None, refusal=_lines(error), progress=""
            ),
        )

    def stop_planning(self) -> None:
        """The plan that is best so far will do."""
        self.planning.is_stopped = True

    def load(self) -> BatchHead:
        """Store the planned job as a batch, off the screen's thread: from now on its sequence is frozen.

        Raises ReferenceTakenError or StorageError.
        """
        if self.state.planned is None:
            raise LookupError("no planned job is on the screen")
        planned = self.state.planned
        return self.work.add_batch(planned.job, planned.plan, planned.heat_findings, planned.rests)

    def loaded(self, batch: BatchHead) -> None:
        self._now(phase=SetUpPhase.LOADED, batch=batch)

    def choose_paper(self, paper: str) -> None:
        self._now(paper=paper)

    def write_tags(self, batch: BatchHead) -> None:
        """Writes the batch's tag sheets, each symbol read back first."""
        target = self.out / f"tags-{batch.reference}-{self.state.paper}.pdf"
        self._now(phase=SetUpPhase.WRITING, batch=batch, progress="Drawing the tags …")
        self.background.run(
            lambda: self._write_sheets(batch.reference, target),
            lambda _: self._now(phase=SetUpPhase.WRITTEN, written=target),
            lambda error: self._now(phase=SetUpPhase.UNWRITTEN, refusal=_lines(error), progress=""),
        )

    def write_csv(self, reference: str) -> Path:
        """Writes the batch's list of garments and gives its place."""
        from printables.whole_files import write_whole

        target = self.out / f"review-{reference}.csv"
        review = self.work.review(self.work.store.batch(reference))
        write_whole([(target, review_csv_file(review))])
        return target

    def write_tag(self, reference: str, code: str) -> Path:
        """Write the tag of one garment, its symbol read back first, and return its place."""
        from printables.batch_tags import tags_of_batch
        from printables.paper import PAPERS
        from printables.tag_sheets import write_tag_sheets

        target = self.out / f"tag-{code}-{self.state.paper}.pdf"
        tags = tags_of_batch(self.work.store, reference, [code])
        write_tag_sheets(tags, target, PAPERS[self.state.paper], made_at=self.work.clock.utc_now())
        return target

    def _write_sheets(self, reference: str, target: Path) -> None:
        from printables.batch_tags import tags_of_batch
        from printables.paper import PAPERS
        from printables.system_fonts import system_fonts
        from printables.tag_sheets import write_tag_sheets

        tags = tags_of_batch(self.work.store, reference)
        write_tag_sheets(
            tags,
            target,
            PAPERS[self.state.paper],
            made_at=self.work.clock.utc_now(),
            progress=self._tell_tags,
            fonts=system_fonts(),
        )

    def _plans_anew(self) -> Planning:
        """Ends the planning that is going on: what it still says is not heard."""
        self.planning.is_stopped = True
        self.planning = Planning()
        return self.planning

    def _tell_plan(self, planning: Planning, so_far: SoFar) -> None:
        text = f"Best so far: {so_far.told}."
        self.background.tell(lambda: self._now_of(planning, progress=text))

    def _tell_tags(self, done: int, of: int) -> None:
        text = f"Tags drawn and read back: {100 * done // of} %"
        self.background.tell(lambda: self._now(progress=text))

    def _now_of(self, planning: Planning, **changes: object) -> None:
        """What a planning comes to, unless another one was begun since."""
        if planning is self.planning:
            self._now(**changes)

    def _now(self, **changes: object) -> None:
        self.state = replace(self.state, **changes)  # type: ignore[arg-type]  # each name is a field of the state
        self.changed()


def _lines(error: FloorError) -> tuple[str, ...]:
    return tuple(str(error).splitlines())


def entries_of(folder: Path) -> tuple[Entry, ...]:
    """The folder's job files and the folders in it, the one above first; one that cannot be read is empty."""
    above = [Entry(folder.parent, "the folder above", is_folder=True)] if folder.parent != folder else []
    try:
        inside = sorted(folder.iterdir(), key=lambda path: path.name.casefold())
    except OSError:
        return tuple(above)
    inside = [path for path in inside if _can_be_looked_at(path)]
    shown = [path for path in inside if not path.name.startswith((".", "_"))]
    folders = [Entry(path, path.name, is_folder=True) for path in shown if path.is_dir()]
    files = [Entry(path, path.name, is_folder=False) for path in shown if path.suffix.lower() in JOB_ENDINGS]
    return (*above, *files, *folders)


def _can_be_looked_at(path: Path) -> bool:
    """Whether it is there for this user: a link into a private folder or to a lost drive is not."""
    try:
        return path.exists()
    except OSError:
        return False
