# A run in the window: modes, how it ends, what is kept of it.
