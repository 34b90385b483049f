"""Key figures of a batch, from what happened to its garments."""
