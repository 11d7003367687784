#include <memory>
#include <nlohmann/json.hpp>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/planning/job_visit.hpp"

namespace slantrule::cli {
namespace {

using Json = nlohmann::ordered_json;

template <KeyedRequest Request>
Json object_schema();

Json text_schema() {
  return {{"type", "string"}};
}

Json ref(const char* definition) {
  return {{"$ref", std::string("#/$defs/") + definition}};
}

Json choices_schema(const KeyInfo& info) {
  Json out = text_schema();
  if (!info.choices.empty()) out["enum"] = Json(info.choices);
  return out;
}

/// A value, with an origin, or several of them.
Json options_schema(const Json& one) {
  const Json with_origin = {{"type", "object"},
                            {"properties", {{"value", one}, {"from", ref("origin")}}},
                            {"required", {"value"}},
                            {"additionalProperties", false}};
  const Json item = {{"anyOf", {one, with_origin}}};
  const auto list_of = [&](const char* key, Json list) -> Json {
    return {{"type", "object"},
            {"properties", {{key, std::move(list)}}},
            {"required", {key}},
            {"additionalProperties", false}};
  };
  return {
      {"anyOf",
       {one, with_origin, list_of("one_of", {{"type", "array"}, {"items", item}, {"minItems", 1}}),
        list_of("between",
                {{"type", "array"}, {"items", item}, {"minItems", 2}, {"maxItems", 2}})}}};
}

Json schema_of(const KeyInfo&, const TextEntry&) {
  return text_schema();
}
Json schema_of(const KeyInfo& info, const ChoiceEntry&) {
  return choices_schema(info);
}
Json schema_of(const KeyInfo& info, const WordsEntry&) {
  const Json word = choices_schema(info);
  return {{"anyOf", {word, {{"type", "array"}, {"items", word}}}}};
}
Json schema_of(const KeyInfo&, const FlagEntry&) {
  return {{"type", "boolean"}};
}
Json schema_of(const KeyInfo&, const NumberEntry&) {
  return {{"type", "number"}};
}
Json schema_of(const KeyInfo& info, const CountEntry&) {
  Json count = {{"type", "integer"}, {"minimum", 1}, {"maximum", info.most_count}};
  if (!info.may_be_best) return count;
  return {{"anyOf", {count, {{"const", "best"}}}}};
}
Json schema_of(const KeyInfo&, const QuantityEntry&) {
  return options_schema(ref("quantity"));
}
Json schema_of(const KeyInfo&, const NameEntry&) {
  return options_schema(text_schema());
}
Json schema_of(const KeyInfo&, const Entry<MaterialRequest>&) {
  return options_schema({{"anyOf", {text_schema(), ref("material")}}});
}
Json schema_of(const KeyInfo&, const Entry<LayerRequest>&) {
  return options_schema(
      {{"anyOf", {{{"enum", {"none", "unknown"}}}, object_schema<LayerRequest>()}}});
}
Json schema_of(const KeyInfo&, const Entry<WallRequest>&) {
  const Json readings = {{"type", "array"}, {"items", ref("quantity")}, {"minItems", 1}};
  Json object = object_schema<WallRequest>();
  object["properties"]["readings"] = readings;
  object["required"] = {"readings"};
  return options_schema({{"anyOf", {ref("quantity"), readings, object}}});
}
Json schema_of(const KeyInfo&, const SensorsEntry&) {
  return {{"anyOf", {text_schema(), object_schema<SensorPairRequest>()}}};
}
Json schema_of(const KeyInfo&, const RangeRequest&) {
  return {{"type", "array"}, {"items", ref("quantity")}, {"minItems", 2}, {"maxItems", 2}};
}
Json schema_of(const KeyInfo&, const ObjectEntry<KitRequest>&) {
  return {{"anyOf", {text_schema(), object_schema<KitRequest>()}}};
}
template <KeyedRequest Section>
Json schema_of(const KeyInfo&, const Section&) {
  return object_schema<Section>();
}
template <class T>
Json schema_of(const KeyInfo&, const ObjectEntry<T>&) {
  return object_schema<T>();
}
template <class T>
Json schema_of(const KeyInfo&, const ListEntry<T>&) {
  return {{"type", "array"}, {"items", object_schema<T>()}};
}

template <KeyedRequest Request>
Json object_schema() {
  Json properties = Json::object();
  Json required = Json::array();
  Request request;
  visit_keys(request, [&](const KeyInfo& info, auto& entry) {
    Json one = schema_of(info, entry);
    std::string help(info.help);
    if (!info.default_text.empty()) help += " (default " + std::string(info.default_text) + ")";
    one["description"] = help;
    one["examples"] = Json::array({Json::parse(info.example)});
    properties[std::string(info.key)] = std::move(one);
    if (info.required) required.push_back(info.key);
  });
  Json out = {
      {"type", "object"}, {"properties", std::move(properties)}, {"additionalProperties", false}};
  if (!required.empty()) out["required"] = std::move(required);
  return out;
}

std::string job_schema() {
  Json out = {{"$schema", "https://json-schema.org/draft/2020-12/schema"},
              {"title", "slantrule job, format 1"}};
  out.update(object_schema<JobRequest>());
  out["properties"]["slantrule"] = {{"const", 1}, {"description", "format of the job file"}};
  Json origins = Json::array();
  for (Origin one : {Origin::gauge, Origin::tape, Origin::calliper, Origin::drawing, Origin::plate,
                     Origin::table, Origin::inventory, Origin::guess}) {
    origins.push_back(origin_name(one));
  }
  out["$defs"] = {{"quantity",
                   {{"type", "string"},
                    {"description", "number, optional tolerance, unit: \"7.11 mm +- 0.15 mm\""}}},
                  {"origin", {{"enum", origins}}},
                  {"material", object_schema<MaterialRequest>()}};
  return out.dump(2) + "\n";
}

}  // namespace

std::function<ExitCode()> setup_schema(CLI::App& app) {
  auto common = std::make_shared<CommonOptions>();
  common->add_output(app);
  return [common] { return write_output(job_schema(), common->output, common->force); };
}

}  // namespace slantrule::cli
