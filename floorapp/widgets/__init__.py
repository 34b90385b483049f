"""The drawn parts that screens are built from: each takes plain records and dispatches what was tapped."""
