"""Which garment to press while others rest, and when the batch will be done."""
