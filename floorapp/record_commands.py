"""The commands that look after the shop's record."""

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
