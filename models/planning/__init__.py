"""The hit sequence: what may be pressed together, in which order, and what an extra hit may do."""
