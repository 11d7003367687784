#include "size_parts.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace slantrule {
namespace {

// --- Text to tokens ----------------------------------------------------------------------------

/// Lower case, with the signs people use brought to ASCII: `"` inch, `x` times, `od` diameter.
std::string plain_signs(std::string_view text) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 31> signs{{
      {"''", "\""},       {"\u2019\u2019", "\""}, {"\u2032\u2032", "\""},
      {"\u201C", "\""},   {"\u201D", "\""},       {"\u2033", "\""},
      {"\u00BD", " 1/2"}, {"\u00BC", " 1/4"},     {"\u00BE", " 3/4"},
      {"\u215B", " 1/8"}, {"\u215C", " 3/8"},     {"\u215D", " 5/8"},
      {"\u215E", " 7/8"}, {"\u2044", "/"},        {"*", " x "},
      {"\u00D7", " x "},  {"\u0425", " x "},      {"\u0445", " x "},
      {"\u00D8", " od "}, {"\u00F8", " od "},     {"\u2300", " od "},
      {"\u03A6", " od "}, {"\u03C6", " od "},     {"\u2205", " od "},
      {"\u2010", "-"},    {"\u2011", "-"},        {"\u2013", "-"},
      {"\u00A0", " "},    {"\u2009", " "},        {"\u202F", " "},
      {"\t", " "},
  }};
  std::string plain;
  while (!text.empty()) {
    const auto sign = std::ranges::find_if(
        signs, [&](const auto& entry) { return text.starts_with(entry.first); });
    if (sign != signs.end()) {
      plain += sign->second;
      text.remove_prefix(sign->first.size());
    } else {
      const char c = text.front();
      plain += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
      text.remove_prefix(1);
    }
  }
  return plain;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
/// Letters of other scripts stay together as words, which nothing knows.
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

/// Takes the name of a standard out of `text`; empty when there is none.
std::string_view take_standard(std::string& text) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 9> names{{
      {"asme b36.10m", asme_b36_10},
      {"asme b36.10", asme_b36_10},
      {"b36.10m", asme_b36_10},
      {"b36.10", asme_b36_10},
      {"asme b36.19m", asme_b36_19},
      {"asme b36.19", asme_b36_19},
      {"b36.19m", asme_b36_19},
      {"b36.19", asme_b36_19},
      {"en 10220", en_10220},
  }};
  for (const auto& [name, standard] : names) {
    const std::size_t at = text.find(name);
    if (at == std::string::npos) continue;
    const std::size_t end = at + name.size();
    const bool starts = at == 0 || text[at - 1] == ' ';
    const bool ends = end == text.size() || text[end] == ' ' || text[end] == ',';
    if (!starts || !ends) continue;
    text.replace(at, name.size(), " ");
    return standard;
  }
  return {};
}

struct Token {
  enum class Kind { number, word, sign, end } kind;
  std::string text;  ///< a number with its fraction: "1 1/2"
  std::size_t at;    ///< where it starts
  bool after_blank;  ///< nothing stands directly before it
};

/// Length of the digits from `at`.
std::size_t digits(std::string_view text, std::size_t at) {
  std::size_t n = 0;
  while (at + n < text.size() && is_digit(text[at + n])) ++n;
  return n;
}

/// Length of "/2" and the like from `at`: a fraction of an inch has a power of 2 below it. 0 else.
std::size_t denominator(std::string_view text, std::size_t at) {
  if (at >= text.size() || text[at] != '/') return 0;
  const std::size_t n = digits(text, at + 1);
  const std::string_view below = text.substr(at + 1, n);
  const bool inch = below == "2" || below == "4" || below == "8" || below == "16" ||
                    below == "32" || below == "64";
  return inch ? n + 1 : 0;
}

/// The number that starts at `at`, with `at` put behind it.
std::string take_number(std::string_view text, std::size_t& at) {
  const std::size_t start = at;
  at += digits(text, at);
  if (const std::size_t below = denominator(text, at)) {  // 1/2
    at += below;
    return std::string(text.substr(start, at - start));
  }
  const std::string whole(text.substr(start, at - start));
  if (at < text.size() && (text[at] == '.' || text[at] == ',')) {  // 114.3, 114,3, .237
    const std::size_t after = digits(text, at + 1);
    if (after > 0) at += 1 + after;
    return std::string(text.substr(start, at - start));
  }
  std::size_t next = at;  // 1-1/2, 1 1/2
  if (next < text.size() && text[next] == '-') {
    ++next;
  } else {
    while (next < text.size() && text[next] == ' ') ++next;
  }
  const std::size_t above = next == at ? 0 : digits(text, next);
  const std::size_t below = above == 0 ? 0 : denominator(text, next + above);
  if (below == 0) return whole;
  at = next + above + below;
  return whole + " " + std::string(text.substr(next, above + below));
}

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> tokens;
  bool after_blank = true;
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    if (c == ' ') {
      after_blank = true;
      ++at;
      continue;
    }
    const bool leading_point =
        (c == '.' || c == ',') && at + 1 < text.size() && is_digit(text[at + 1]) && after_blank;
    if (is_digit(c) || leading_point) {
      const std::size_t start = at;
      std::string number = take_number(text, at);
      tokens.push_back({Token::Kind::number, std::move(number), start, after_blank});
    } else if (is_letter(c)) {
      const std::size_t start = at;
      while (at < text.size() && is_letter(text[at])) ++at;
      tokens.push_back(
          {Token::Kind::word, std::string(text.substr(start, at - start)), start, after_blank});
    } else {
      tokens.push_back({Token::Kind::sign, std::string(1, c), at, after_blank});
      ++at;
    }
    after_blank = false;
  }
  tokens.push_back({Token::Kind::end, "", text.size(), true});
  return tokens;
}

// --- Tokens to parts ---------------------------------------------------------------------------

class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text), tokens_(tokens_of(text)) {}

  SizeParts parts() {
    while (now().kind != Token::Kind::end) {
      if (accept(",") || accept("pipe")) continue;
      if (read_schedule() || read_wall() || read_size() || read_other_size()) continue;
      parts_.left_over = text_.substr(now().at);
      break;
    }
    return parts_;
  }

 private:
  const Token& now() const { return tokens_[at_]; }
  const Token& next() const { return tokens_[std::min(at_ + 1, tokens_.size() - 1)]; }
  bool is_number() const { return now().kind == Token::Kind::number; }

  bool accept(std::string_view text) {
    if (now().kind == Token::Kind::end || now().text != text) return false;
    ++at_;
    return true;
  }

  template <std::size_t n>
  bool accept_one_of(const std::array<std::string_view, n>& texts) {
    return std::ranges::any_of(texts, [&](std::string_view text) { return accept(text); });
  }

  /// STD, XS, XXS and their other names.
  std::string weight() {
    static constexpr std::array<std::string_view, 2> std_names{"std", "standard"};
    static constexpr std::array<std::string_view, 2> xs_names{"xs", "xh"};
    static constexpr std::array<std::string_view, 2> xxs_names{"xxs", "xxh"};
    if (accept_one_of(std_names)) {
      if (!accept("weight")) accept("wt");
      return "STD";
    }
    if (accept_one_of(xs_names)) return "XS";
    if (accept_one_of(xxs_names)) return "XXS";
    return {};
  }

  /// "40" or "40S"; a bare number is one only where something says so (`said`).
  std::string schedule_number(bool said) {
    if (!is_number()) return {};
    const bool stainless = next().text == "s" && !next().after_blank;
    if (!said && !stainless) return {};
    std::string label = now().text;
    at_ += 1;
    if (stainless) {
      ++at_;
      label += 'S';
    }
    return label;
  }

  bool read_schedule() {
    if (!parts_.schedules.empty()) return false;
    const std::size_t start = at_;
    static constexpr std::array<std::string_view, 4> words{"sch", "schedule", "sched", "#"};
    const bool said = accept_one_of(words);
    if (said) {
      static constexpr std::array<std::string_view, 3> joints{".", "-", ":"};
      accept_one_of(joints);
    }
    do {
      std::string label = weight();
      // Behind a slash ("STD/40") a bare number is a schedule too.
      if (label.empty()) label = schedule_number(said || !parts_.schedules.empty());
      if (label.empty() && !said && parts_.schedules.empty() && is_number() && next().text == "/") {
        const std::size_t back = at_;  // "40/STD" without "sch"
        std::string number = now().text;
        at_ += 2;
        const std::string other = weight();
        if (!other.empty()) {
          parts_.schedules = {std::move(number), other};
          return true;
        }
        at_ = back;
      }
      if (label.empty()) {
        at_ = start;
        parts_.schedules.clear();
        return false;
      }
      parts_.schedules.push_back(std::move(label));
    } while (accept("/"));
    return true;
  }

  /// "6-8 in", "48/54?": two sizes, which are read only to name both.
  bool read_other_size() {
    if (parts_.size_kind == SizeParts::SizeKind::none || parts_.other_size ||
        (now().text != "-" && now().text != "/") || next().kind != Token::Kind::number) {
      return false;
    }
    ++at_;
    parts_.other_size = WrittenLength{now().text, {}};
    ++at_;
    parts_.other_size->unit = unit();
    accept("?");
    return true;
  }

  /// The unit behind a number: `"`, `in`, `-inch`, `mm`.
  std::string unit() {
    static constexpr std::array<std::string_view, 4> inches{"\"", "in", "inch", "inches"};
    const std::size_t start = at_;
    accept("-");
    if (accept_one_of(inches)) {
      accept(".");
      return "in";
    }
    at_ = start;
    static constexpr std::array<std::string_view, 13> own_words{
        "x",  "pipe", "sch", "schedule", "sched", "std", "standard",
        "xs", "xh",   "xxs", "xxh",      "nps",   "dn"};
    if (now().kind != Token::Kind::word || std::ranges::count(own_words, now().text) > 0) return {};
    std::string word = now().text;
    ++at_;
    return word;
  }

  bool read_wall() {
    if (parts_.wall || parts_.size_kind == SizeParts::SizeKind::none || now().text != "x" ||
        next().kind != Token::Kind::number) {
      return false;
    }
    ++at_;
    parts_.wall = WrittenLength{now().text, {}};
    ++at_;
    parts_.wall->unit = unit();
    return true;
  }

  bool read_size() {
    if (parts_.size_kind != SizeParts::SizeKind::none) return false;
    const std::size_t start = at_;
    SizeParts::SizeKind kind = SizeParts::SizeKind::number;
    if (accept("nps")) {
      kind = SizeParts::SizeKind::nps;
    } else if (accept("dn")) {
      kind = SizeParts::SizeKind::dn;
    } else {
      parts_.outside_diameter = accept("od");
    }
    if (kind != SizeParts::SizeKind::number && (now().text == "-" || now().text == ".")) ++at_;
    if (!is_number()) {
      at_ = start;
      parts_.outside_diameter = false;
      return false;
    }
    parts_.size.number = now().text;
    ++at_;
    if (kind == SizeParts::SizeKind::number && !parts_.outside_diameter && accept("nps")) {
      kind = SizeParts::SizeKind::nps;
    } else if (kind == SizeParts::SizeKind::nps) {  // "NPS 6 in" says inch twice, no harm
      const std::size_t before_unit = at_;
      if (unit() != "in") at_ = before_unit;
    } else if (kind == SizeParts::SizeKind::number) {
      parts_.size.unit = unit();
    }
    parts_.size_kind = kind;
    return true;
  }

  std::string_view text_;
  std::vector<Token> tokens_;
  std::size_t at_ = 0;
  SizeParts parts_;
};

}  // namespace

SizeParts parts_of_size(std::string_view text) {
  std::string plain = plain_signs(text);
  const std::string_view standard = take_standard(plain);
  SizeParts parts = Reader(plain).parts();
  parts.standard = standard;
  return parts;
}

}  // namespace slantrule
