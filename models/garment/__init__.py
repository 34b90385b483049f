"""What happens to one garment: its states, its events, and the fold that turns events into progress."""
