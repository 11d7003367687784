#pragma once

/// From a JSON tree to the request objects of planning, by their key tables. Used by job files and
/// catalogue files.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slantrule/files/catalogue_keys.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/files/json_document.hpp"
#include "slantrule/planning/job_visit.hpp"

namespace slantrule {

/// Reads a quantity and holds it against what its key allows; else a message for it.
std::variant<Reading, std::string> stated_quantity(std::string_view text, const KeyInfo& info);

/// The same for a reading that is there already: holds it against what its key allows. `text` is
/// for the message.
std::optional<std::string> not_allowed(const Reading& reading, std::string_view text,
                                       const KeyInfo& info);

/// The word of the key's list that `text` is, case and blanks aside; else a message.
std::variant<std::string_view, std::string> stated_choice(std::string_view text,
                                                          const KeyInfo& info);

class RequestReader {
 public:
  RequestReader(std::vector<Problem>& problems, const ReadNamedFile& read_named_file)
      : problems_(problems), read_named_file_(read_named_file) {}

  /// Reads every member of the object `node`; unknown keys are problems with a suggestion.
  /// `path` is the dotted key of the object, empty at the top; `also` names keys to pass over.
  template <KeyedRequest Request>
  void read_object(const JsonNode& node, const std::string& path, Request& into,
                   std::span<const std::string_view> also = {});

 private:
  void problem(const JsonNode& node, const std::string& path, std::string message);
  void unknown_key(const JsonNode& node, const std::string& path, std::string_view key,
                   const std::vector<std::string_view>& known);
  bool want(const JsonNode& node, const std::string& path, const KeyInfo& info,
            JsonNode::Kind kind);
  std::optional<Reading> quantity(const JsonNode& node, const std::string& path,
                                  const KeyInfo& info);

  /// The forms a value can take; `read_one(node, option)` reads a single one.
  template <class T, class ReadOne>
  void options(const JsonNode& node, const std::string& path, const KeyInfo& info, Entry<T>& entry,
               const ReadOne& read_one);

  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, TextEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, ChoiceEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, WordsEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, FlagEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, CountEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, NumberEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            QuantityEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, NameEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            Entry<MaterialRequest>& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            Entry<LayerRequest>& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            Entry<WallRequest>& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            SensorsEntry& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            RangeRequest& entry);
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            ObjectEntry<KitRequest>& entry);
  template <KeyedRequest Section>
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info, Section& section);
  template <class T>
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            ObjectEntry<T>& entry);
  template <class T>
  void read(const JsonNode& node, const std::string& path, const KeyInfo& info,
            ListEntry<T>& entry);

  std::vector<Problem>& problems_;
  const ReadNamedFile& read_named_file_;
};

extern template void RequestReader::read_object(const JsonNode&, const std::string&, JobRequest&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, SensorRow&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, SolidRow&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, LiquidRow&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, PipeRow&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, CouplantRow&,
                                                std::span<const std::string_view>);
extern template void RequestReader::read_object(const JsonNode&, const std::string&, FittingRow&,
                                                std::span<const std::string_view>);

}  // namespace slantrule
