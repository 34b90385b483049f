"""Which database is meant: the one that was named, or the shop's own."""


def database_url(named: str | None) -> str:
    """Return the address that was named, or else that of the SQLite file in the user's own data folder."""
    if named:
        return named
    import platformdirs

    folder = platformdirs.user_data_path("press-floor", appauthor=False, ensure_exists=True)
    return f"sqlite:///{folder / 'floor.db'}"
