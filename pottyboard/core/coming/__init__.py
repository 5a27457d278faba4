"""The days that come, as far as they can be known: for what a household puts into its phones."""
