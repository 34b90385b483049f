"""Waits until a warm peel are seen as well; all rests seen before were until a cold one."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"

KIND = ["material", "fabric", "place", "until", "at"]


def upgrade() -> None:
    op.add_column("rests", sa.Column("until", sa.String(16), nullable=False, server_default="cold"))
    op.drop_index("rests_by_kind", "rests")
    op.create_index("rests_by_kind", "rests", KIND)
