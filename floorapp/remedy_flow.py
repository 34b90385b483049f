"""Remedies without a window: what is asked about a garment or a batch, typed for it, and stored.

Every remedy is stored off the screen's thread, as a tap at the press is; what is refused becomes a notice.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from pathlib import Path
from typing import Protocol

from floorapp.background import Background, T
from floorapp.screen_names import ScreenName
from floorapp.set_up_flow import SetUpFlow
from floorapp.typed_text import typed
from floorapp.views import NoticeView, Tap, Tone
from models.batch.standing import Standing
from models.errors import FloorError
from models.floor.remedies import Remedies
from models.floor.work import FloorWork
from models.store.errors import BatchMovedError
from models.store.records import StoredBatch, StoredGarment
from models.tags.code import spoken

_STANDING_WORDS = {
    Standing.OPEN: "open again",
    Standing.CLOSED: "closed",
    Standing.WITHDRAWN: "taken back: do not press this garment, its tag is void",
}


class Step(StrEnum):
    """What the Change screen asks."""

    GARMENT = "what about the garment"
    MAKE_AGAIN = "make it again?"
    TAKE_OUT = "why is it taken out?"
    BATCH = "what about the batch"
    TAKE_BATCH_BACK = "take the batch back?"


@dataclass(frozen=True, slots=True)
class Subject:
    """What is being changed: a batch, and the garment of it if it is about one."""

    batch: StoredBatch
    garment: StoredGarment | None
    step: Step


@dataclass(frozen=True, slots=True)
class Moved:
    """A remedy that was refused since the batch is another by now; `told` says what was done to it."""

    now: Subject
    told: str


@dataclass(frozen=True, slots=True)
class WearerDraft:
    """A wearer as it is being typed; `sizes` are there to choose from where a garment is added."""

    wearer: str = ""
    number: str = ""
    is_number: bool = False
    size: str = ""
    sizes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        return self.number if self.is_number else self.wearer

    def with_text(self, text: str) -> "WearerDraft":
        return replace(self, number=text) if self.is_number else replace(self, wearer=text)


class Ask(Protocol):
    """Does work at the store, reads the floor's lists anew, and shows the result."""

    def __call__(self, work: Callable[[], T], shown: Callable[[T], None]) -> None: ...


@dataclass(frozen=True, slots=True)
class Screens:
    """What the remedies do to the screens: which one is shown, and what is told above it."""

    show: Callable[[ScreenName], None]
    shown: Callable[[], ScreenName]
    tell: Callable[[NoticeView], None]
    tell_later: Callable[[NoticeView], None]
    to_review: Callable[[str], None]


class RemedyFlow:
    """`subject` is what the Change screen is about, `draft` what is typed on the screen of large keys."""

    def __init__(
        self, work: FloorWork, set_up: SetUpFlow, background: Background, ask: Ask, screens: Screens
    ) -> None:
        self.subject: Subject | None = None
        self.draft = WearerDraft()
        self._remedies = Remedies(work.store, work.seat)
        self._store = work.store
        self._set_up, self._background, self._ask, self._screens = set_up, background, ask, screens
        self._came_from = ScreenName.FLOOR

    @property
    def actions(self) -> dict[Tap, Callable[[str], None]]:
        return {
            Tap.CHANGE_GARMENT: self._to_garment,
            Tap.CHANGE_BATCH: self._to_batch,
            Tap.ASK_CHANGE: lambda step: self._to_step(Step(step)),
            Tap.MAKE_AGAIN: lambda _: self._make_again(),
            Tap.TAKE_OUT: self._take_out,
            Tap.PUT_BACK: lambda _: self._put_back(),
            Tap.TO_CORRECT: lambda _: self._to_correct(),
            Tap.TO_ADD: lambda _: self._to_add(),
            Tap.CHOOSE_FIELD: lambda field: self._type(replace(self.draft, is_number=field == "number")),
            Tap.CHOOSE_SIZE: lambda size: self._type(replace(self.draft, size=size)),
            Tap.SAVE_WEARER: lambda _: self._save(),
            Tap.CLOSE_BATCH: lambda _: self._close(),
            Tap.REOPEN_BATCH: lambda _: self._reopen(),
            Tap.TAKE_BATCH_BACK: lambda _: self._take_batch_back(),
            Tap.SET_PRIORITY: lambda priority: self._set_priority(int(priority)),
            Tap.PRINT_TAG: self._print_tag,
        }

    @property
    def garment(self) -> StoredGarment:
        """The garment that the screen is about; only asked where there is one."""
        if self.subject is None or self.subject.garment is None:
            raise LookupError("no garment is being changed")
        return self.subject.garment

    @property
    def batch(self) -> StoredBatch:
        """The batch that the screen is about; only asked where there is one."""
        if self.subject is None:
            raise LookupError("no batch is being changed")
        return self.subject.batch

    def key(self, key: str) -> None:
        """Go on typing by one of the large keys."""
        draft = self.draft
        self._type(draft.with_text(typed(draft.text, key, is_name=not draft.is_number)))

    def type(self, text: str) -> None:
        """Put what a keyboard typed, which knows capitals only, in place of what stands there."""
        words = text if self.draft.is_number else text.title()
        self._type(self.draft.with_text(words))

    def back(self) -> None:
        """One step back: from keys or a question to what they are about, from there to where it began."""
        menu = {Step.MAKE_AGAIN: Step.GARMENT, Step.TAKE_OUT: Step.GARMENT, Step.TAKE_BATCH_BACK: Step.BATCH}
        if self.subject is None:
            self._screens.show(ScreenName.FLOOR)
        elif self._screens.shown() == ScreenName.WEARER_ENTRY:
            self._screens.show(ScreenName.CHANGE)
        elif self.subject.step in menu:
            self._to_step(menu[self.subject.step])
        elif self._came_from == ScreenName.REVIEW:
            self._screens.to_review(self.batch.head.reference)  # counted anew
        else:
            self._screens.show(self._came_from)

    # What is asked about

    def _to_garment(self, code: str) -> None:
        self._begin()
        self._ask(partial(self._read_garment, code), self._show_subject)

    def _to_batch(self, reference: str) -> None:
        self._begin()
        self._ask(partial(self._read_batch, reference), self._show_subject)

    def _begin(self) -> None:
        if self._screens.shown() not in {ScreenName.CHANGE, ScreenName.WEARER_ENTRY}:
            self._came_from = self._screens.shown()

    def _read_garment(self, code: str) -> Subject:
        garment = self._store.garment(code)
        return Subject(self._store.stored_batch(garment.batch.reference), garment, Step.GARMENT)

    def _read_batch(self, reference: str) -> Subject:
        return Subject(self._store.stored_batch(reference), None, Step.BATCH)

    def _show_subject(self, subject: Subject, told: str = "") -> None:
        self.subject = subject
        self._screens.show(ScreenName.CHANGE)
        if told:
            self._screens.tell(NoticeView(told, Tone.DONE))

    def _to_step(self, step: Step) -> None:
        if self.subject is not None:
            self._show_subject(replace(self.subject, step=step))

    # What is stored; each raises what models.floor.remedies raises

    def _try(self, work: Callable[[], T], shown: Callable[[T], None]) -> None:
        """Store a remedy. If somebody else has changed the batch meanwhile, show how it stands now."""
        subject = self.subject

        def tried() -> T | Moved:
            try:
                return work()
            except BatchMovedError as error:
                return Moved(self._read_anew(subject), str(error))

        def show(result: T | Moved) -> None:
            if isinstance(result, Moved):
                self._show_subject(result.now)
                self._screens.tell(NoticeView(result.told, Tone.ATTENTION))
            else:
                shown(result)

        self._ask(tried, show)

    def _read_anew(self, subject: Subject | None) -> Subject:
        if subject is None:
            raise LookupError("nothing is being changed")
        if subject.garment is not None:
            return self._read_garment(subject.garment.row.code)
        return self._read_batch(subject.batch.head.reference)

    def _make_again(self) -> None:
        spoiled = self.garment

        def work() -> Subject:
            return self._read_garment(self._remedies.make_again(spoiled))

        self._try(work, lambda made: self._show_subject(made, _new_tag(made)))

    def _take_out(self, reason: str) -> None:
        self._change(partial(self._remedies.take_out, self.garment, reason), "Taken out of its batch.")

    def _put_back(self) -> None:
        self._change(partial(self._remedies.put_back, self.garment), "Back in its batch.")

    def _change(self, remedy: Callable[[], StoredGarment], told: str) -> None:
        def work() -> Subject:
            return self._read_garment(remedy().row.code)

        self._try(work, lambda subject: self._show_subject(subject, told))

    def _close(self) -> None:
        batch = self.batch.head
        self._try(partial(self._remedies.close, batch), lambda _: self._left(f"{batch.name} is closed."))

    def _reopen(self) -> None:
        batch = self.batch.head
        told = f"{batch.name} is on the Floor again."
        self._try(partial(self._remedies.reopen, batch), lambda _: self._left(told))

    def _set_priority(self, priority: int) -> None:
        batch = self.batch.head

        def work() -> Subject:
            return self._read_batch(self._remedies.set_priority(batch, priority).reference)

        order = "before the others now" if priority > 0 else "by its due date again"
        self._try(work, lambda subject: self._show_subject(subject, f"{batch.name} goes {order}."))

    def _take_batch_back(self) -> None:
        batch = self.batch.head
        told = f"{batch.name} was taken back. Its tags are void, and {batch.reference} is free again."
        self._try(partial(self._remedies.withdraw, batch), lambda _: self._left(told))

    def _left(self, told: str) -> None:
        """The batch has come to the Floor or left it: that is where to look."""
        self._screens.show(ScreenName.FLOOR)
        self._screens.tell(NoticeView(told, Tone.DONE))

    # What is typed

    def _to_correct(self) -> None:
        row = self.garment.row
        self._type(WearerDraft(row.wearer, row.number))

    def _to_add(self) -> None:
        sizes = partial(self._remedies.sizes, self.batch.head)
        self._ask(sizes, lambda known: self._type(WearerDraft(size=known[0], sizes=known)))

    def _type(self, draft: WearerDraft) -> None:
        self.draft = draft
        self._screens.show(ScreenName.WEARER_ENTRY)

    def _save(self) -> None:
        draft = self.draft
        if draft.sizes:
            self._add(draft)
        else:
            remedy = partial(self._remedies.correct, self.garment, draft.wearer, draft.number)
            self._change(remedy, "Corrected. Print its tag anew; the old one still scans.")

    def _add(self, draft: WearerDraft) -> None:
        batch = self.batch.head

        def work() -> Subject:
            return self._read_garment(self._remedies.add(batch, draft.size, draft.wearer, draft.number))

        self._try(work, lambda made: self._show_subject(made, _new_tag(made)))

    def _print_tag(self, code: str) -> None:
        self._screens.tell(NoticeView("Writing the tag …", Tone.PLAIN))
        write = partial(self._set_up.write_tag, self.garment.batch.reference, code)
        self._background.run(write, self._written, self._unwritten)

    def _written(self, path: Path) -> None:
        self._screens.tell_later(NoticeView(f"Written: {path}; print at 100 %", Tone.DONE))

    def _unwritten(self, error: FloorError) -> None:
        self._screens.tell_later(NoticeView(str(error), Tone.ATTENTION))


def _new_tag(made: Subject) -> str:
    garment = made.garment
    return f"{spoken(garment.row.code)} is its new tag. Print it." if garment is not None else ""


def changed_words(before: StoredGarment, now: StoredGarment) -> str:
    """Return what was done meanwhile to the garment in hand, by whoever; empty if nothing was."""
    code = spoken(now.row.code)
    if now.batch.standing != before.batch.standing:
        return f"The batch of {code} is {_STANDING_WORDS[now.batch.standing]}"
    if now.row.taken_out != before.row.taken_out:
        out = f"was taken out of its batch ({now.row.taken_out}); do not press it"
        return f"{code} {out if now.row.taken_out else 'was put back into its batch'}"
    if (now.row.wearer, now.row.number) != (before.row.wearer, before.row.number):
        return f"The name or number of {code} was corrected; it stands at the top now"
    return ""
