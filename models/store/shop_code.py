"""The characters that every tag code of the shop begins with, as the database has them."""

from random import Random

from sqlalchemy import Connection, func, select, text

from models.store.damage import damaged
from models.store.database import Database
from models.store.errors import DamagedRecordError
from models.store.tables import GARMENTS, SHOP
from models.tags.code import ALPHABET, SHOP_LENGTH, new_shop_code

THE_CODE = "the shop's code"


def drawn_shop_code(database: Database, random: Random) -> tuple[str, DamagedRecordError | None]:
    """Return the code of the shop, drawn if its database is new; of two stations that begin at once, one's.

    The second is what is wrong with it, as for `stored_shop_code`.
    """
    with database.reading() as connection:
        is_drawn = connection.scalar(select(func.count()).select_from(SHOP)) != 0
    if not is_drawn:
        new = text("INSERT INTO shop (id, code) VALUES (1, :code) ON CONFLICT DO NOTHING")
        with database.writing() as connection:
            connection.execute(new, {"code": new_shop_code(random)})
    return stored_shop_code(database)


def stored_shop_code(database: Database) -> tuple[str, DamagedRecordError | None]:
    """Return the code, and what is wrong with it: if no tag begins so, what most tags begin with counts.

    Raises DamagedRecordError if that tells nothing either.
    """
    with database.reading() as connection:
        code = connection.scalar(select(SHOP.c.code))
        if _is_code(code) and _begins_tags(connection, str(code)):
            return str(code), None
        begin = func.substr(GARMENTS.c.code, 1, SHOP_LENGTH)
        of_most = connection.scalar(select(begin).group_by(begin).order_by(func.count().desc()).limit(1))
    if _is_code(of_most):
        return str(of_most), damaged(THE_CODE)
    raise damaged(THE_CODE)


def _begins_tags(connection: Connection, code: str) -> bool:
    """Whether a tag begins with the code; before there are any tags, it cannot be told."""
    any_tag = select(GARMENTS.c.code).limit(1)
    with_it = any_tag.where(func.substr(GARMENTS.c.code, 1, SHOP_LENGTH) == code)
    return connection.scalar(any_tag) is None or connection.scalar(with_it) is not None


def _is_code(code: object) -> bool:
    return isinstance(code, str) and len(code) == SHOP_LENGTH and set(code) <= set(ALPHABET)
