"""The screens: each a presenter (words, no window), a module and its .kv."""
