"""The set-up: the few questions of a first start, and the whole form."""
