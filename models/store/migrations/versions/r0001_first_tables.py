"""Shop, batches, garments and events."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

INSTANT = sa.DateTime(timezone=True).with_variant(sa.String(32), "sqlite")


def upgrade() -> None:
    op.create_table(
        "shop",
        sa.Column("id", sa.Integer, sa.CheckConstraint("id = 1"), primary_key=True, autoincrement=False),
        sa.Column("code", sa.String, nullable=False),
    )
    op.create_table(
        "batches",
        sa.Column("id", sa.Uuid, primary_key=True),
        sa.Column("reference", sa.String, nullable=False, unique=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("due", sa.Date),
        sa.Column("garments", sa.Integer, nullable=False),
        sa.Column("created_at", INSTANT, nullable=False),
        sa.Column("recipe", sa.JSON, nullable=False),
    )
    op.create_table(
        "garments",
        sa.Column("id", sa.Uuid, primary_key=True),
        sa.Column("batch_id", sa.Uuid, sa.ForeignKey("batches.id"), nullable=False),
        sa.Column("n", sa.Integer, nullable=False),
        sa.Column("size", sa.String, nullable=False),
        sa.Column("wearer", sa.String, nullable=False),
        sa.Column("number", sa.String, nullable=False),
        sa.Column("code", sa.String, nullable=False, unique=True),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("rest_ends_at", INSTANT),
        sa.Column("station", sa.String, nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("updated_at", INSTANT, nullable=False),
        sa.UniqueConstraint("batch_id", "n"),
    )
    op.create_index("garments_by_state", "garments", ["state", "rest_ends_at"])
    op.create_index("garments_counted", "garments", ["batch_id", "size", "state", "n"])
    op.create_table(
        "events",
        sa.Column("id", sa.Uuid, primary_key=True),
        sa.Column("garment_id", sa.Uuid, sa.ForeignKey("garments.id"), nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("tap", sa.Uuid, nullable=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("station", sa.String, nullable=False),
        sa.Column("person", sa.String, nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("data", sa.JSON, nullable=False),
        sa.UniqueConstraint("garment_id", "seq"),
    )
