"""How a design shows itself in a notebook: its picture, its sizes, and what the checks found."""

from __future__ import annotations

from html import escape

from net3d.chain import Design
from net3d.checks.checks import Level
from net3d.page.picture import picture_url
from net3d.tables.sizes import customer_facts

ACROSS = 640  # pixels


def card_html(design: Design) -> str:
    """The card as HTML, complete in itself and without a style of its own."""
    odd = [finding for finding in design.findings if finding.level is not Level.OK]
    fine = len(design.findings) - len(odd)
    told = [f"{finding.level.value.capitalize()}: {finding.message}" for finding in odd]
    told.append(f"{fine} of {len(design.findings)} checks are fine.")
    picture = f'<img src="{picture_url(design.at_work)}" width="{ACROSS}" alt="The net in perspective">'
    facts = "".join(
        f"<tr><th>{escape(name)}</th><td>{escape(value)}</td></tr>" for name, value in customer_facts(design)
    )
    findings = "".join(f"<li>{escape(text)}</li>" for text in told)
    title = f"<h3>{escape(design.spec.title)}</h3><p>{escape(design.shape.state.sentence)}</p>"
    return f"{title}{picture if design.shape.at_rest else ''}<table>{facts}</table><ul>{findings}</ul>"
