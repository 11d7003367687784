#pragma once

/// Texts in HTML.

#include <string>
#include <string_view>

namespace slantrule {

/// A text of the job for HTML content or a quoted attribute: markup escaped, control and
/// direction-changing characters taken out, bytes that are no UTF-8 replaced. The caller puts texts
/// of the job into an element with dir="auto", so that right-to-left writing stays where it is.
std::string html_text(std::string_view text);

/// A whole page: no script, nothing from elsewhere. `title` is plain text; `style` is CSS and
/// `body` HTML, both ready.
std::string html_page(std::string_view title, std::string_view style, std::string_view body);

}  // namespace slantrule
