"""What commands share: options, output, how each ends, and the work behind some of them."""
