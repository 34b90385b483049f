"""The commands that find a garment, and that mend what is wrong with a batch or a garment of it."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from models.floor.remedies import Remedies
    from models.store.records import StoredGarment

BATCH = click.argument("batch")
CODE = click.argument("code")
MOST_FOUND = 200


@click.command()
@click.argument("text", required=False, default="")
@click.pass_obj
def find(database: str | None, text: str) -> None:
    """Find garments by a part of the wearer's name, the number, the tag code or the batch.

    Case and accents make no difference; of several words each has to stand somewhere. Without TEXT all
    batches are listed. Each line says code, batch, place in it, size, wearer, number and state.

    \b
    Example: floorapp find "ann 7"
    """
    from floorapp.opened_store import open_store
    from floorapp.screens.remedy_words import state_words

    with open_store(database, reads_only=True) as store:
        found = store.find(text, MOST_FOUND)
    for head in found.batches:
        click.echo(f"batch\t{head.reference}\t{head.name}\t{head.standing.value}")
    for row in found.garments:
        words = (
            row.code,
            row.batch_reference,
            str(row.n),
            row.size,
            row.wearer,
            row.number,
            state_words(row),
        )
        click.echo("\t".join(words))
    if found.is_more:
        click.echo(f"More than {MOST_FOUND} garments; write more of the name.", err=True)
    if not (found.batches or found.garments):
        click.echo(f"Nothing is called {text}.", err=True)


@click.command()
@BATCH
@click.option("--size", required=True, help="One of the sizes that the batch was planned for.")
@click.option("--name", default="", help="The wearer's name.")
@click.option("--number", default="", help="The wearer's number.")
@click.pass_obj
def add(database: str | None, *, batch: str, size: str, name: str, number: str) -> None:
    """Add a garment to a batch, and print its tag code.

    \b
    Example: floorapp add LC-0147 --size M --name "Ann Lee" --number 7
    """
    with remedies_on(database) as remedies:
        code = remedies.add(remedies.store.batch(batch), size, name, number)
    tell_new_tag(batch, code)


@click.command(name="make-again")
@CODE
@click.pass_obj
def make_again(database: str | None, code: str) -> None:
    """Make a spoiled garment again for the same wearer, and print its new tag code.

    \b
    Example: floorapp make-again K7KM4EQ7
    """
    with remedies_on(database) as remedies:
        spoiled = garment_of(remedies, code)
        new = remedies.make_again(spoiled)
    tell_new_tag(spoiled.batch.reference, new)


def tell_new_tag(batch: str, code: str) -> None:
    click.echo(code)
    click.echo(f"Stored. Next: floorapp tags {batch} --only {code} --out tag.pdf", err=True)


@click.command(name="take-out")
@CODE
@click.option("--reason", required=True, help="Why; it is said when the tag is scanned.")
@click.pass_obj
def take_out(database: str | None, code: str, reason: str) -> None:
    """Take a garment that is not finished out of its batch.

    \b
    Example: floorapp take-out K7KM4EQ7 --reason "no longer wanted"
    """
    with remedies_on(database) as remedies:
        remedies.take_out(garment_of(remedies, code), reason)


@click.command(name="put-back")
@CODE
@click.pass_obj
def put_back(database: str | None, code: str) -> None:
    """Put a garment back into the batch that it was taken out of.

    \b
    Example: floorapp put-back K7KM4EQ7
    """
    with remedies_on(database) as remedies:
        remedies.put_back(garment_of(remedies, code))


@click.command()
@CODE
@click.option("--name", help="The wearer's right name; left out, it stays.")
@click.option("--number", help="The right number; left out, it stays.")
@click.pass_obj
def correct(database: str | None, code: str, name: str | None, number: str | None) -> None:
    """Correct the wearer's name or number of a garment. Its old tag still scans.

    \b
    Example: floorapp correct K7KM4EQ7 --name "Anne Lee"
    """
    with remedies_on(database) as remedies:
        garment = garment_of(remedies, code)
        row = garment.row
        kept = (row.wearer if name is None else name, row.number if number is None else number)
        remedies.correct(garment, *kept)
    next_step = f"floorapp tags {row.batch_reference} --only {row.code} --out tag.pdf"
    click.echo(f"Stored. Next: {next_step}", err=True)


@click.command()
@BATCH
@click.pass_obj
def close(database: str | None, batch: str) -> None:
    """Close a batch whose garments have all ended: it leaves the Floor.

    \b
    Example: floorapp close LC-0147
    """
    with remedies_on(database) as remedies:
        remedies.close(remedies.store.batch(batch))


@click.command()
@BATCH
@click.pass_obj
def reopen(database: str | None, batch: str) -> None:
    """Put a closed batch on the Floor again.

    \b
    Example: floorapp reopen LC-0147
    """
    with remedies_on(database) as remedies:
        remedies.reopen(remedies.store.batch(batch))


@click.command(name="take-back")
@BATCH
@click.pass_obj
def take_back(database: str | None, batch: str) -> None:
    """Take back a wrongly loaded batch of which nothing was pressed. Its reference is free again.

    Its tags are void: they say so when they are scanned.

    \b
    Example: floorapp take-back LC-0147
    """
    with remedies_on(database) as remedies:
        remedies.withdraw(remedies.store.batch(batch))


COMMANDS = (find, add, make_again, take_out, put_back, correct, close, reopen, take_back)


@contextmanager
def remedies_on(database: str | None) -> "Iterator[Remedies]":
    """The remedies of this station on the shop's store."""
    import os
    import socket

    from floorapp.opened_store import open_store
    from floorapp.seat_setting import seat_setting
    from models.floor.remedies import Remedies
    from models.floor.work import Seat

    setting = seat_setting(os.environ, socket.gethostname())
    with open_store(database) as store:
        yield Remedies(store, Seat(setting.station, setting.person, setting.rests))


def garment_of(remedies: "Remedies", typed: str) -> "StoredGarment":
    from models.tags.code import read_code

    return remedies.store.garment(read_code(typed, remedies.store.shop_code))
