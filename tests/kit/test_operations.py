"""The proof's reading of content streams, beside a general reader's, on all pages of all kits."""

from __future__ import annotations

from typing import Any

from pypdf.generic import ContentStream, create_string_object

from handkit.proof.content.operations import plain_operations


def test_every_page_of_a_kit_is_plain_and_read_as_a_general_reader_reads_it(kit: Any) -> None:
    for page in kit.reader.pages:
        contents = page.get_contents()
        read = ContentStream(contents, kit.reader).operations
        plain = plain_operations(contents.get_data(), create_string_object)
        assert plain == [(operands, operator.decode()) for operands, operator in read]
