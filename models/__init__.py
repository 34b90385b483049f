"""The trade, with no screen: jobs, hits, garments, tags and their store."""
