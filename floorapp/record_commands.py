"""The commands that look after the shop's record."""

from pathlib import Path

import click

REFUSED = 2


@click.command()
@click.pass_obj
def check(database: str | None) -> None:
    """Verify the shop's database and print what is wrong in it. Nothing is changed.

    Looks at the file itself, at the checksum of every stored record, at what guards the log against changes,
    and whether each garment is listed as its log tells. Works on a file that may only be read.

    Exit status: 0 all is well, 2 something is wrong.

    \b
    Example: floorapp check
    """
    from floorapp.database_names import database_url
    from floorapp.steps_shown import steps_shown
    from models.store.checking import faults_of
    from models.store.database import opened_to_look

    with opened_to_look(database_url(database)) as opened, steps_shown("Garments checked") as shown:
        faults = faults_of(opened, shown)
    for fault in faults:
        click.echo(fault)
    if faults:
        raise click.exceptions.Exit(REFUSED)
    click.echo(f"{opened.name}: all is well")


@click.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The file for the copy. Left out, it goes into the folder `backups` beside the database.",
)
@click.pass_obj
def backup(database: str | None, out: Path | None) -> None:
    """Copy the shop's database, also while the app runs, and check the copy.

    Nothing is ever overwritten. Never copy the file itself: half of it may be in the files beside it.

    \b
    Examples: floorapp backup
              floorapp backup --out /media/stick/floor.db
    """
    from floorapp.database_names import database_url
    from models.clock import SystemClock
    from models.store.backups import Backups, file_to_copy
    from models.store.copying import copy_checked

    file = file_to_copy(database_url(database))
    if out is None:
        out = Backups(file).make(SystemClock().utc_now()).file
    else:
        copy_checked(file, out)
    click.echo(f"{out}: copied and checked. To bring it back: floorapp restore {out}")


@click.command()
@click.argument("copy", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--damaged", is_flag=True, help="Take a copy in which something is damaged as it is.")
@click.pass_obj
def restore(database: str | None, copy: Path, damaged: bool) -> None:
    """Put a copy in the place of the shop's database.

    COPY is a file that `floorapp backup` or the app itself has made. It is checked first; the database that
    is there is set aside beside it, and nothing is overwritten. Close the app at every station before.

    \b
    Example: floorapp restore backups/floor.20261207T073000Z.db
    """
    from floorapp.database_names import database_url
    from models.clock import SystemClock
    from models.store.backups import file_to_copy
    from models.store.restoring import restore as put_back

    file = file_to_copy(database_url(database))
    aside = put_back(file, copy, SystemClock().utc_now(), may_be_damaged=damaged)
    click.echo(f"{file}: {copy} is in its place now")
    if aside is not None:
        click.echo(f"What was there before is {aside}")


COMMANDS = (backup, restore, check)
