#pragma once

/// JSON written straight into a text, in the order of the calls: what a list of thousands of plans
/// can afford. Byte for byte what nlohmann's ordered object would be dumped to.

#include <cmath>
#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace slantrule {

/// Appends `text` as a JSON string: pure ASCII, so that a terminal that shows it obeys no control
/// character of a text, C1 and writing direction included. What is no UTF-8 becomes U+FFFD, one for
/// each longest beginning of a character (Unicode Standard 15.0, 3.9, table 3-7).
void append_json_string(std::string& out, std::string_view text);

/// Appends a finite number such that it reads back as the same double; never without ".0".
void append_json_number(std::string& out, double value);

/// Members and elements, commas seen to. `object` and `array` take a function that writes what is
/// inside.
class JsonWriter {
 public:
  explicit JsonWriter(std::string& out) : out_(out) {}

  template <class Inside>
  void object(const Inside& inside) {
    enclosed('{', '}', inside);
  }
  template <class Inside>
  void object(std::string_view key, const Inside& inside) {
    name(key);
    enclosed('{', '}', inside);
  }
  template <class Inside>
  void array(std::string_view key, const Inside& inside) {
    name(key);
    enclosed('[', ']', inside);
  }

  /// An element of an array.
  void value(std::string_view text) {
    comma();
    append_json_string(out_, text);
  }
  void value(double number) {
    comma();
    append_json_number(out_, number);
  }

  /// A member whatever its text.
  void text(std::string_view key, std::string_view value) {
    name(key);
    this->value(value);
  }
  void flag(std::string_view key, bool value) {
    name(key);
    raw_value(value ? "true" : "false");
  }
  template <std::integral Number>
  void count(std::string_view key, Number value) {
    name(key);
    raw_value(std::to_string(value));
  }
  /// Two numbers: from, to.
  void range(std::string_view key, double from, double to) {
    array(key, [&] {
      value(from);
      value(to);
    });
  }

  /// A member for a value that exists; what isn't finite, or an empty text, is left out.
  void put(std::string_view key, double value) {
    if (!std::isfinite(value)) return;
    name(key);
    this->value(value);
  }
  void put(std::string_view key, const std::optional<double>& value, double factor = 1) {
    if (value) put(key, *value * factor);
  }
  void put(std::string_view key, const std::string& value) {
    if (!value.empty()) text(key, value);
  }

  /// An element that is JSON already.
  void raw_value(std::string_view json) {
    comma();
    out_ += json;
  }

 private:
  void comma() {
    if (needs_comma_) out_ += ',';
    needs_comma_ = true;
  }
  void name(std::string_view key) {
    comma();
    append_json_string(out_, key);
    out_ += ':';
    needs_comma_ = false;
  }
  template <class Inside>
  void enclosed(char open, char close, const Inside& inside) {
    comma();
    out_ += open;
    needs_comma_ = false;
    inside();
    out_ += close;
    needs_comma_ = true;
  }

  std::string& out_;
  bool needs_comma_ = false;
};

}  // namespace slantrule
