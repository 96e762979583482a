//! What all pages share: their head, and text made safe for them.

const STYLE: &str = "body{font:16px/1.45 sans-serif;max-width:70rem;margin:2rem auto;padding:0 1rem;color:#1c2430;background:#fff}
h1{margin-bottom:0}table{border-collapse:collapse;margin:.5rem 0}
td,th{text-align:left;vertical-align:top;padding:.2rem .8rem .2rem 0;border-bottom:1px solid #ccd3dc}
td.n{text-align:right;white-space:nowrap}code{font:14px monospace}
details{margin-left:1.2rem;border-left:2px solid #ccd3dc;padding-left:.6rem}
summary{cursor:pointer}.mend{font-weight:bold}.share{color:#53606f}svg{max-width:100%}";

/// A page up to the beginning of its body.
pub(super) fn head(title: &str) -> String {
    let title = escaped(title);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>{title}</title>\n<style>{STYLE}</style></head>\n<body>"
    )
}

/// Text as it may stand in a page, in quotes too.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
