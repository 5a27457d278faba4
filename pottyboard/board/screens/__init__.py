"""The screens of the board, one file each."""
