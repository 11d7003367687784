#include "slantrule/sheets/html_text.hpp"

#include "slantrule/units/suggest.hpp"

namespace slantrule {

std::string html_text(std::string_view text) {
  std::string out;
  for (const char c : shown(text, text.size())) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string html_page(std::string_view title, std::string_view style, std::string_view body) {
  std::string out =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>";
  out += html_text(title);
  out += "</title>\n<style>\n";
  out += style;
  out += "</style>\n</head>\n<body>\n";
  out += body;
  out += "</body>\n</html>\n";
  return out;
}

}  // namespace slantrule
