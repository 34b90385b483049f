"""Tag codes and the symbols that carry them."""
