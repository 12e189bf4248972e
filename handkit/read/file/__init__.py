"""From the disk to plain values, with the line of each."""
