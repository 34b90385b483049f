"""The commands of `floorapp`. Each imports what it needs inside itself, so that the help comes at once."""

import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from floorapp import record_commands, remedy_commands
from floorapp.opened_store import open_store
from models.errors import FloorError, NoSequenceExistsError, NoSoundSequenceError

if TYPE_CHECKING:
    from floorapp.planned_job import PlannedJob
    from models.quality.review import Review
    from models.store.records import BatchHead
    from printables.tag import Tag

REFUSED = 2
NO_PLAN = 3
PROVED = "It is proved that no sequence of hits keeps every rule."
MOST_DPI = 1200
"""No label printer is finer, and the picture of a label stays small enough to read back."""

JOB = click.argument("job", type=click.Path(path_type=Path))
BATCH = click.argument("batch")


class FloorCommands(click.Group):
    """Tells every refusal in plain lines on standard error, and ends with its status."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except NoSequenceExistsError as error:
            refuse(f"{error}\n{PROVED}", NO_PLAN)
        except NoSoundSequenceError as error:
            refuse(str(error), NO_PLAN)
        except FloorError as error:
            refuse(str(error), REFUSED)
        except UnicodeEncodeError:  # bytes that are no UTF-8 come in as half characters, which nothing stores
            refuse("a word of this command is not UTF-8 text; type it anew", REFUSED)
        except BrokenPipeError:  # the reader of the output has seen enough; click ends quietly
            raise
        except OSError as error:
            if error.filename is None:
                forget_output()
            refuse(f"{error.filename or 'the output'}: {error.strerror}; mend that and try again", REFUSED)


def refuse(reason: str, status: int) -> NoReturn:
    click.echo(reason, err=True)
    raise click.exceptions.Exit(status)


def forget_output() -> None:
    """What could not be written would be tried again at the exit of Python, and change the exit status."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


@click.group(cls=FloorCommands, invoke_without_command=True, context_settings={"max_content_width": 100})
@click.option(
    "--database",
    envvar="FLOORAPP_DATABASE",
    metavar="URL",
    help="The shop's database, like sqlite:////srv/floor.db or postgresql://host/floor. "
    "Left out, it is FLOORAPP_DATABASE, or else an SQLite file in your own data folder.",
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=lambda context, _, is_asked: tell_version(context) if is_asked else None,
    help="Show the version and exit.",
)
@click.pass_context
def main(context: click.Context, database: str | None) -> None:
    """The press floor: takes batches of garments through their hits at the heat press.

    A job file says which pieces go where on which garments. From it, floorapp works out the hits (one hit is
    one closing of the press), prints a tag for every garment, leads the operator through each one and keeps
    the record. Without a command it opens the touch app on the shop's database.

    \b
    To see it at work:        floorapp demo
    To look at a job's hits:  floorapp plan vests.toml
    To begin a batch:         floorapp load vests.toml
    To press it:              floorapp

    Exit status: 0 done, 2 refused (the reason is on standard error), 3 no plan exists for the job.
    """
    context.obj = database
    if context.invoked_subcommand is None:
        from floorapp.app import run_app

        run_app(database)


def tell_version(context: click.Context) -> NoReturn:
    from importlib.metadata import PackageNotFoundError, version

    try:
        click.echo(version("press-floor"))
    except PackageNotFoundError:
        click.echo("not installed: run from its folder")
    context.exit()


@main.command()
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Where the pictures go.")
def demo(out: Path | None) -> None:
    """Show the whole work on an invented batch.

    Opens the app on the vests of a lightship rescue crew. Where there is no display, the batch is walked
    unseen, and a picture of every screen is left in a folder.

    \b
    Example: floorapp demo
    """
    from floorapp.demo import run_demo

    run_demo(out)


@main.command()
@JOB
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON, format 1.")
def plan(job: Path, as_json: bool) -> None:
    """Work out the hits of a job file and print them. Nothing is stored.

    JOB is a job file, TOML or JSON. Exit status: 0 a plan, 2 the job is refused, 3 no plan: the reason
    says whether none exists or none was found.

    \b
    Example: floorapp plan vests.toml
    """
    planned = plan_job(job)
    click.echo(plan_as_json(planned) if as_json else plan_as_text(planned))


def plan_as_json(planned: "PlannedJob") -> str:
    from models.plan.plan import plan_to_json
    from models.recipe.heat_finding import heat_finding_to_json
    from models.recipe.piece_rest import piece_rest_to_json

    findings = [heat_finding_to_json(finding) for finding in planned.heat_findings]
    rests = [piece_rest_to_json(rest) for rest in planned.rests]
    told = {**plan_to_json(planned.plan), "heat_findings": findings, "rests": rests}
    return json.dumps(told, ensure_ascii=False)


def plan_as_text(planned: "PlannedJob") -> str:
    from floorapp.in_words import plan_in_words

    return plan_in_words(planned.job, planned.plan, planned.heat_findings, planned.rests)


def plan_job(path: Path) -> "PlannedJob":
    from floorapp.planned_job import read_and_plan
    from floorapp.steps_shown import better_plans_shown
    from models.clock import SystemClock

    planned = read_and_plan(path, progress=better_plans_shown(SystemClock()))
    for remark in planned.remarks:
        click.echo(f"Note: {remark}", err=True)
    return planned


@main.command()
@JOB
@click.option(
    "--new-database",
    is_flag=True,
    help="Begin a new database where one has gone since the last start.",
)
@click.pass_obj
def load(database: str | None, job: Path, new_database: bool) -> None:
    """Store a job file as a batch, and print its reference and tag codes.

    The hits and every setting are frozen with the batch: a job file changed later changes nothing.

    \b
    Example: floorapp load vests.toml
    """
    planned = plan_job(job)
    with open_store(database, may_be_new=True, is_new_meant=new_database) as store:
        batch = store.add_batch(planned.job, planned.plan, planned.heat_findings, planned.rests)
        click.echo(batch.reference)
        click.echo(f"Stored. Next: floorapp tags {batch.reference} --out tags.pdf", err=True)
        for finding in planned.heat_findings:
            click.echo(f"Too little time at heat: {finding.text}", err=True)
        for row in store.garments(batch.reference):
            click.echo("\t".join((row.code, str(row.n), row.size, row.wearer, row.number)).rstrip())


@main.command()
@BATCH
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="A PDF, or with --label a folder."
)
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Of the sheets."
)
@click.option("--label", metavar="WxH", help="A PNG for each tag instead, of this size in mm, like 62x29.")
@click.option(
    "--dpi",
    type=click.IntRange(1, MOST_DPI),
    default=203,
    show_default=True,
    help="Dots per inch of a label.",
)
@click.option("--only", metavar="CODE", multiple=True, help="Just the tag of this garment; may be repeated.")
@click.pass_obj
def tags(
    database: str | None,
    *,
    batch: str,
    out: Path,
    paper: str,
    label: str | None,
    dpi: int,
    only: tuple[str, ...],
) -> None:
    """Print the tags of a batch, on sheets or on labels.

    BATCH is the reference that `floorapp load` printed. Every symbol is read back before a file is written.

    \b
    Examples: floorapp tags LC-0147 --out tags.pdf --paper letter
              floorapp tags LC-0147 --out labels --label 62x29 --dpi 300
              floorapp tags LC-0147 --out tag.pdf --only K7KM4EQ7
    """
    from models.tags.code import read_code
    from printables.batch_tags import tags_of_batch

    if label is None and out.suffix.lower() != ".pdf":
        raise click.UsageError(f"{out} is no PDF: end the name in .pdf, or ask for labels with --label 62x29")
    if label is not None and out.is_file():
        raise click.UsageError(f"{out} is a file: labels go into a folder")
    with open_store(database, reads_only=True) as store:
        codes = [read_code(typed, store.shop_code) for typed in only]
        batch_tags = tags_of_batch(store, batch, codes)
    if label is None:
        write_sheets(batch_tags, out, paper)
    else:
        write_labels(batch_tags, out, label, dpi)


def write_sheets(batch_tags: "Sequence[Tag]", out: Path, paper: str) -> None:
    from floorapp.screens.words import count_of
    from floorapp.steps_shown import steps_shown
    from models.clock import SystemClock
    from printables.paper import PAPERS
    from printables.system_fonts import system_fonts
    from printables.tag_sheets import write_tag_sheets

    made_at, fonts = SystemClock().utc_now(), system_fonts()
    with steps_shown("Tags drawn and read back") as shown:
        write_tag_sheets(batch_tags, out, PAPERS[paper], made_at=made_at, progress=shown, fonts=fonts)
    click.echo(f"{count_of(len(batch_tags), 'tag')} in {out}; print at 100 %")


def write_labels(batch_tags: "Sequence[Tag]", folder: Path, label: str, dpi: int) -> None:
    from floorapp.screens.words import count_of
    from floorapp.steps_shown import steps_shown
    from printables.system_fonts import system_fonts
    from printables.tag_labels import label_size, write_tag_labels

    size = label_size(label)
    with steps_shown("Labels drawn and read back") as shown:
        write_tag_labels(batch_tags, folder, size, dpi, progress=shown, fonts=system_fonts())
    click.echo(f"{count_of(len(batch_tags), 'label')} in {folder}; print dot for dot")


@main.command()
@BATCH
@click.option("--json", "as_json", is_flag=True, help="Print the review as JSON.")
@click.option(
    "--csv", "csv_file", type=click.Path(path_type=Path, dir_okay=False), help="Write the garments here."
)
@click.pass_obj
def review(database: str | None, batch: str, as_json: bool, csv_file: Path | None) -> None:
    """Say how a batch stands: what is done, held or spoiled, what was found, and the key figures.

    \b
    Examples: floorapp review LC-0147
              floorapp review LC-0147 --csv vests.csv
    """
    from models.floor.reviewing import review_batch

    if as_json and csv_file:
        raise click.UsageError("choose one of --json and --csv")
    with open_store(database, reads_only=True) as store:
        head = store.batch(batch)
        reviewed = review_batch(store, head)
    if csv_file:
        write_list(reviewed, csv_file)
    else:
        click.echo(review_as_json(head, reviewed) if as_json else review_as_text(head, reviewed))


def write_list(reviewed: "Review", target: Path) -> None:
    from models.quality.review_export import review_csv_file
    from printables.whole_files import write_whole

    write_whole([(target, review_csv_file(reviewed))])
    click.echo(f"{len(reviewed.garments)} garments in {target}")


def review_as_json(head: "BatchHead", reviewed: "Review") -> str:
    from models.quality.review_export import review_to_json

    told = {"batch": head.reference, "name": head.name, **review_to_json(reviewed)}
    return json.dumps(told, ensure_ascii=False)


def review_as_text(head: "BatchHead", reviewed: "Review") -> str:
    from floorapp.in_words import review_in_words

    return review_in_words(f"{head.name} ({head.reference})", reviewed)


@main.command()
@click.option(
    "--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="The folder for them."
)
def screens(out: Path) -> None:
    """Leave a picture of every screen in a folder, from the demo batch. No display is needed.

    \b
    Example: floorapp screens --out pictures
    """
    from floorapp.album import write_album

    write_album(out)


for command in (*remedy_commands.COMMANDS, *record_commands.COMMANDS):
    main.add_command(command)


if __name__ == "__main__":
    main(prog_name="floorapp")
