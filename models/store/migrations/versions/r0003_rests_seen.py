"""The rests that were seen, by material, fabric and place."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

INSTANT = sa.DateTime(timezone=True).with_variant(sa.String(32), "sqlite")


def upgrade() -> None:
    op.create_table(
        "rests",
        sa.Column("garment_id", sa.Uuid, sa.ForeignKey("garments.id"), primary_key=True),
        sa.Column("n", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("material", sa.String, nullable=False),
        sa.Column("fabric", sa.String, nullable=False),
        sa.Column("place", sa.String, nullable=False),
        sa.Column("estimate_s", sa.Float, nullable=False),
        sa.Column("rested_s", sa.Float, nullable=False),
        sa.Column("told", sa.String(16), nullable=False),
    )
    op.create_index("rests_by_kind", "rests", ["material", "fabric", "place", "at"])
