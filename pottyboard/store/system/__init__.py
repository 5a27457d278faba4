"""What differs from one system to the next: one module for each thing."""
