#include "tedge/usecases/derived_pictures.hpp"

#include <nlohmann/json.hpp>

#include "act_values.hpp"
#include "existing_photograph.hpp"
#include "record_of_file.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::usecases {

namespace {

namespace fs = std::filesystem;
using casebook::Edit;
using casebook::FieldValues;
using casebook::Record;

Expected<void> check_photographs(const Acting& acting, const NewDerivedPicture& wanted) {
    if (wanted.from_photographs.empty())
        return fail("derived.no-photographs", "A picture that comes from no photograph is evidence of nothing.",
                    "Name the photographs it was made from.");
    for (const auto& [id, role] : wanted.from_photographs) {
        const auto record = existing_photograph(acting.book, id);
        if (!record) return pass_on(record);
        if (record->case_id != wanted.case_id)
            return fail("derived.other-case", "One of the photographs belongs to another picture.",
                        "Take photographs of one case.", {{"photograph", to_text(id)}});
    }
    return {};
}

// The bytes as a file for as long as the casebook needs to take them in.
class PassingFile {
public:
    explicit PassingFile(fs::path path) : path_(std::move(path)) {}
    ~PassingFile() {
        std::error_code ignored;
        fs::remove(path_, ignored);
    }
    PassingFile(const PassingFile&) = delete;
    PassingFile& operator=(const PassingFile&) = delete;

    [[nodiscard]] const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

struct Stored {
    std::string sha256;
    imaging::PictureProbe probe;
};

Expected<Stored> store(casebook::Casebook& book, std::string_view file) {
    if (auto made = make_folder_durably(book.derived_folder()); !made) return pass_on(made);
    const PassingFile passing(book.derived_folder() / (to_hex(sha256(file)) + ".passing"));
    if (auto written = write_file_durably(passing.path(), file); !written) return pass_on(written);
    auto probe = imaging::probe_picture(passing.path());
    if (!probe) return pass_on(probe);
    const auto stored = book.store_original(passing.path());
    if (!stored) return pass_on(stored);
    return Stored{stored->sha256, *std::move(probe)};
}

FieldValues values_of(const NewDerivedPicture& wanted, const Stored& stored, const nlohmann::json& recipe) {
    nlohmann::json sources = nlohmann::json::object();
    for (const auto& [id, role] : wanted.from_photographs) sources[to_text(id)] = role;
    FieldValues values;
    values.text("what", wanted.what)
        .text("sha256", stored.sha256)
        .text("media_type", imaging::media_type(stored.probe.kind))
        .integer("width_px", stored.probe.size.width_px)
        .integer("height_px", stored.probe.size.height_px)
        .value("from_photographs", std::move(sources))
        .value("recipe", recipe);
    if (wanted.face_frame) values.record("face_frame", *wanted.face_frame);
    if (wanted.face_from_picture) values.placement("face_from_picture", *wanted.face_from_picture);
    if (!wanted.caption.empty()) values.text("caption", wanted.caption);
    return values;
}

Expected<std::optional<Uuid>> kept_before(const Acting& acting, const NewDerivedPicture& wanted,
                                          std::string_view sha256) {
    const auto known = acting.book.records(wanted.case_id, wanted.kind);
    if (!known) return pass_on(known);
    const Record* same = record_of_file(*known, sha256);
    return same == nullptr ? std::nullopt : std::optional<Uuid>(same->id);
}

// One commit for all that are not kept yet, so that none is ever there without the others.
Expected<std::vector<KeptPicture>> record_them(const Acting& acting, const std::vector<DerivedFile>& pictures,
                                               const std::vector<Stored>& stored, const nlohmann::json& recipe) {
    std::vector<std::optional<Uuid>> before;
    std::vector<Edit> edits;
    for (std::size_t i = 0; i < pictures.size(); ++i) {
        const NewDerivedPicture& wanted = pictures[i].wanted;
        // Asked here, within the act that records: computing takes a while, in which a photograph may have been
        // deleted.
        if (auto checked = check_photographs(acting, wanted); !checked) return pass_on(checked);
        const auto known = kept_before(acting, wanted, stored[i].sha256);
        if (!known) return pass_on(known);
        before.push_back(*known);
        if (*known) continue;
        Edit& edit = edits.emplace_back();
        edit.case_id = wanted.case_id;
        edit.kind = wanted.kind;
        edit.values = values_of(wanted, stored[i], recipe);
    }
    std::vector<Uuid> made;
    if (!edits.empty()) {
        auto committed = acting.book.commit(acting.author, edits);
        if (!committed) return pass_on(committed);
        made = *std::move(committed);
    }
    std::vector<KeptPicture> out;
    auto next = made.begin();
    for (std::size_t i = 0; i < pictures.size(); ++i) {
        const Uuid id = before[i] ? *before[i] : *next++;
        out.push_back({{id, removal_of(id)}, stored[i].sha256, before[i].has_value()});
    }
    return out;
}

}  // namespace

Expected<KeptPicture> keep_derived_picture(const Acting& acting, const NewDerivedPicture& wanted, std::string_view file,
                                           const nlohmann::json& recipe) {
    auto kept = keep_derived_pictures(acting, {{wanted, file}}, recipe);
    if (!kept) return pass_on(kept);
    return std::move(kept->front());
}

Expected<std::vector<KeptPicture>> keep_derived_pictures(const Acting& acting, const std::vector<DerivedFile>& pictures,
                                                         const nlohmann::json& recipe) {
    for (const DerivedFile& each : pictures)
        if (auto checked = check_photographs(acting, each.wanted); !checked) return pass_on(checked);
    std::vector<Stored> stored;
    for (const DerivedFile& each : pictures) {
        auto one = store(acting.book, each.file);
        if (!one) return pass_on(one);
        stored.push_back(*std::move(one));
    }
    return acting.book.in_one_act([&] { return record_them(acting, pictures, stored, recipe); });
}

}  // namespace tedge::usecases
