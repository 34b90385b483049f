"""The store: batches, garments and the append-only log of events. Only this package speaks SQL."""
