"""Where a YAML node begins and ends: parser marks run over anchors, comments and blank lines."""

import yaml


def span(event: yaml.Event) -> tuple[int, int]:
    """Start and end as the parser marks them, in code points from 0."""
    start, end = event.start_mark, event.end_mark
    return (start.index if start else 0), (end.index if end else 0)


def scalar_span(event: yaml.ScalarEvent, content: str) -> tuple[int, int]:
    """Start and end of the scalar alone, quotes included and without anchor, tag or trailing space."""
    start, end = span(event)
    if event.anchor is not None or event.tag is not None:
        start = _after_properties(content, start, end)
    if event.style in ("|", ">"):
        end = start + len(content[start:end].rstrip())
    return start, end


def _after_properties(content: str, index: int, end: int) -> int:
    while index < end:
        if content[index] in "&!":
            while index < end and not content[index].isspace():
                index += 1
        elif content[index] == "#":
            index = min(end, content.index("\n", index))
        elif content[index].isspace():
            index += 1
        else:
            break
    return index


def collection_start(event: yaml.CollectionStartEvent, content: str) -> int:
    """The opening bracket, the first key or the first hyphen."""
    start, index = span(event)
    if event.flow_style:
        return max(start, index - 1)
    if isinstance(event, yaml.MappingStartEvent) or content[index : index + 1] == "-":
        return index
    return index - 1  # a sequence in its parent's column: the mark is after its first hyphen


def collection_end(event: yaml.CollectionEndEvent, last: int, flow: bool) -> int:
    """The closing bracket, else ``last``, where the last thing inside ended."""
    start, end = span(event)
    return end if flow and end > start else last
