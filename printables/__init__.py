"""What leaves on paper: job tags."""
