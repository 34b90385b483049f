"""A PostgreSQL server of the tests' own: in a temporary folder, reached by a socket there, so on no port."""

import os
import pwd
import shlex
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg

INSTALL = "the tests need PostgreSQL's server programs; install them: apt-get install -y postgresql"
ACCOUNT = "postgres"
"""Debian's account of the server, which refuses to run as root."""

END_OTHERS = (
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
    " WHERE datname = current_database() AND pid <> pg_backend_pid()"
)


class PostgresServer:
    """A running server with one database, which each test gets empty: far quicker than a new one for each."""

    def __init__(self, folder: Path, programs: Path) -> None:
        self._folder, self._programs = folder, programs

    def empty_database(self) -> str:
        """The URL of the database, emptied; whoever still used it is thrown out."""
        with psycopg.connect(host=str(self._folder), user=ACCOUNT, autocommit=True) as connection:
            connection.execute(END_OTHERS)
            connection.execute("DROP SCHEMA public CASCADE")
            connection.execute("CREATE SCHEMA public")
            connection.execute("GRANT USAGE ON SCHEMA public TO PUBLIC")
        return self.url_of("postgres")

    def url_of(self, name: str) -> str:
        return f"postgresql+psycopg://{ACCOUNT}@/{name}?host={self._folder}"

    @contextmanager
    def hanging(self) -> Iterator[None]:
        """All its processes stand still, and go on at the end: connections stay, nobody answers."""
        processes = self._processes()
        try:
            for process in processes:
                os.kill(process, signal.SIGSTOP)
            yield
        finally:
            for process in processes:
                os.kill(process, signal.SIGCONT)

    def restart(self) -> None:
        """Every connection is lost at once, as when the machine is switched off; then it runs again."""
        _run(self._programs / "pg_ctl", "-D", self._folder / "data", "-m", "immediate", "-w", "restart")

    def _processes(self) -> list[int]:
        """The server's own process and its children, as the kernel lists them."""
        first = int((self._folder / "data" / "postmaster.pid").read_text().splitlines()[0])
        return [
            first,
            *(
                int(path.parent.name)
                for path in Path("/proc").glob("[0-9]*/stat")
                if parent_in(path) == first
            ),
        ]


@contextmanager
def running_server() -> Iterator[PostgresServer]:
    """Made, started, and in the end stopped and removed. Raises AssertionError where it is not installed."""
    programs = _programs()
    folder = Path(tempfile.mkdtemp(prefix="floor-pg-"))
    if os.geteuid() == 0:
        os.chown(folder, pwd.getpwnam(ACCOUNT).pw_uid, -1)
    data, log = folder / "data", folder / "log"
    options = f"-F -k {folder} -c listen_addresses=''"
    try:
        _run(programs / "initdb", "-D", data, "-A", "trust", "-U", ACCOUNT, "-E", "UTF8", "--no-sync")
        _run(programs / "pg_ctl", "-D", data, "-l", log, "-o", options, "-w", "start")
        try:
            yield PostgresServer(folder, programs)
        finally:
            _run(programs / "pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _programs() -> Path:
    """The folder with initdb and pg_ctl."""
    on_path = shutil.which("initdb")
    debian = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    assert on_path or debian, INSTALL
    return Path(on_path).parent if on_path else debian[-1].parent


def _run(*words: object) -> None:
    command = [str(word) for word in words]
    if os.geteuid() == 0:
        command = ["su", ACCOUNT, "-c", shlex.join(command)]
    subprocess.run(command, check=True, cwd="/", stdout=subprocess.DEVNULL)


def parent_in(stat: Path) -> int | None:
    """The parent that a process's `stat` file names; None if the process has just ended."""
    try:
        return int(stat.read_text().rpartition(")")[2].split()[1])
    except OSError:
        return None
