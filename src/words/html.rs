//! What all pages share: their head, and text made safe for them. Every page can also be read as XML.

const STYLE: &str = "body{font:16px/1.45 sans-serif;max-width:70rem;margin:2rem auto;padding:0 1rem;color:#1c2430;background:#fff}
h1{margin-bottom:0}table{border-collapse:collapse;margin:.5rem 0}
td,th{text-align:left;vertical-align:top;padding:.2rem .8rem .2rem 0;border-bottom:1px solid #ccd3dc}
td.n{text-align:right;white-space:nowrap}code{font:14px monospace}
details{margin-left:1.2rem;border-left:2px solid #ccd3dc;padding-left:.6rem}
summary{cursor:pointer}.mend{font-weight:bold}.share{color:#53606f}svg{max-width:100%;height:auto}
.quote{font-size:1.15em;border-left:4px solid #1c2430;padding-left:.8rem}.whole{break-inside:avoid}
.sheet{break-before:page}.wide{page:wide;break-before:page;break-after:page}.lines td{height:1.7rem;min-width:8rem}
@page{size:A4;margin:14mm}@page wide{size:A4 landscape;margin:10mm}
@media print{body{font-size:10.5pt;max-width:none;margin:0;padding:0;color:#000;background:#fff}
h1,h2,h3{break-after:avoid}tr{break-inside:avoid}thead{display:table-header-group}
svg{max-height:178mm}.wide svg>rect{fill:#fff}.share{color:#333}}";

/// A page up to the beginning of its body.
pub(crate) fn head(title: &str) -> String {
    let title = escaped(title);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/><title>{title}</title>\n<style>{STYLE}</style></head>\n<body>"
    )
}

/// Text as it may stand in a page, in quotes too.
pub(crate) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
