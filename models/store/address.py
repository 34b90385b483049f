"""The address of a database: read, checked, and told without its secrets."""

from urllib.parse import quote

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from models.store.errors import BadDatabaseAddressError

NO_ADDRESS = "this is no database address"
MEND = "write sqlite:///folder/floor.db or postgresql+psycopg://person@server/database"
OF_A_FILE = {"timeout", "uri", "mode", "cache", "immutable", "vfs"}
"""What may stand after the `?` of an SQLite address."""
NOT_SECRET = {"host", "port", "service", "sslmode", "timeout", "connect_timeout"}
HIDDEN = "***"


def address_of(url: str) -> URL:
    """Return the address for the driver that is used. Raises BadDatabaseAddressError."""
    try:
        address = make_url(url)
    except (ArgumentError, ValueError) as error:  # the latter for a port that is no number
        raise BadDatabaseAddressError(f"{NO_ADDRESS}; {MEND}") from error
    match address.get_backend_name():
        case "postgresql":
            _must_have_one_at(url)
            return _fit_for_a_server(address.set(drivername="postgresql+psycopg"))
        case "sqlite" if address.database not in (None, "", ":memory:"):
            return _checked(address.set(drivername="sqlite"))
    raise BadDatabaseAddressError(f"{told(address)} names no file and no server; {MEND}")


def told(address: URL) -> str:
    """Return the address as a person may see it: no password, wherever one stands."""
    query = {key: value if key in NOT_SECRET else HIDDEN for key, value in address.query.items()}
    text = address.set(query=query).render_as_string(hide_password=True)
    return text.replace(quote(HIDDEN), HIDDEN)


def _must_have_one_at(url: str) -> None:
    """Raises BadDatabaseAddressError, which tells nothing of the address: it could be half a password."""
    if url.partition("?")[0].count("@") > 1:
        raise BadDatabaseAddressError(f"{NO_ADDRESS}; write an @ in a name or password as %40")


def _fit_for_a_server(address: URL) -> URL:
    """Raises BadDatabaseAddressError if the driver cannot make anything of the options."""
    try:
        address.get_dialect()().create_connect_args(address)
    except (ArgumentError, ValueError, TypeError) as error:
        raise BadDatabaseAddressError(f"{told(address)}: an option after the ? is wrong; {MEND}") from error
    return address


def _checked(address: URL) -> URL:
    """Raises BadDatabaseAddressError if no file can be called so, or an option is not what it has to be."""
    if "\0" in str(address.database):
        raise BadDatabaseAddressError(f"{told(address)}: no file has a %00 in its name; {MEND}")
    for option, value in address.query.items():
        if option not in OF_A_FILE:
            raise BadDatabaseAddressError(f"{told(address)}: there is no option {option}; leave it out")
        if not isinstance(value, str):
            raise BadDatabaseAddressError(f"{told(address)}: {option} stands there twice; write it once")
    timeout = address.query.get("timeout", "0")
    if not _is_seconds(str(timeout)):
        raise BadDatabaseAddressError(f"{told(address)}: timeout is a number of seconds, like timeout=10")
    return address


def _is_seconds(text: str) -> bool:
    try:
        return 0 <= float(text) < float("inf")
    except ValueError:
        return False
