"""What happens to a batch as a whole, and to whether a garment belongs to it."""
