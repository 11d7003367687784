#include "slantrule/sheets/html_text.hpp"

#include <catch2/catch.hpp>

namespace slantrule {
namespace {

TEST_CASE("html_text: markup and quotes stay text", "[sheets]") {
  // The five characters that HTML gives a meaning: WHATWG HTML, section 13.1.2 and 13.5.
  CHECK(html_text("<b onclick=\"x('y')\">A & B</b>") ==
        "&lt;b onclick=&quot;x(&#39;y&#39;)&quot;&gt;A &amp; B&lt;/b&gt;");
}

TEST_CASE("html_text: what would run or turn the writing round is taken out", "[sheets]") {
  const std::string turned = html_text("a\u202Eb\u2066c\x1b[31md");
  CHECK(turned.find("\u202E") == std::string::npos);
  CHECK(turned.find("\u2066") == std::string::npos);
  CHECK(turned.find('\x1b') == std::string::npos);
  CHECK(html_text("no \xFF utf-8").find('\xFF') == std::string::npos);
}

TEST_CASE("html_page: the title is escaped, the body is not", "[sheets]") {
  const std::string page = html_page("</title><script>", "p { margin: 0 }\n", "<p>x</p>\n");
  CHECK(page.find("<title>&lt;/title&gt;&lt;script&gt;</title>") != std::string::npos);
  CHECK(page.find("<body>\n<p>x</p>\n</body>") != std::string::npos);
  CHECK(page.find("<script") == std::string::npos);
}

}  // namespace
}  // namespace slantrule
