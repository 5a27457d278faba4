"""The statistics of waiting times, proportions and clock times: no dog in here."""
