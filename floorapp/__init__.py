"""The touch app at the press, and the command line."""
