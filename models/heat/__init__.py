"""Heat: how the adhesive warms under the platen, and how long a garment cools until it can be peeled."""
