"""Step 7, proof: a PDF file in; `Proof` out: what a reading of the file measured."""
