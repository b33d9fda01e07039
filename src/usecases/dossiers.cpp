#include "tedge/usecases/dossiers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "laid_over.hpp"
#include "override_edit.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/dossier/extract.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "tedge/imaging/pyramid.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/usecases/derived.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Reader;
using casebook::Record;
using imaging::Raster8;

constexpr std::array readers{Reader::own,     Reader::buyer,   Reader::restorer,
                             Reader::carrier, Reader::insurer, Reader::scholar};

// Photographs of one case from their pyramids.
class PyramidPictures final : public dossier::PictureSource {
public:
    PyramidPictures(const CaseSnapshot& snapshot, std::filesystem::path folder)
        : snapshot_(snapshot), folder_(std::move(folder)) {}

    Expected<Raster8> photograph(const Uuid& photograph, int longest_side_px) override {
        const auto reader = pyramid(photograph);
        if (!reader) return pass_on(reader);
        return reader->preview(longest_side_px);
    }

    Expected<Raster8> registered(const Uuid& moving, const Uuid& reference, int longest_side_px) override {
        const auto still = photograph(reference, longest_side_px);
        if (!still) return pass_on(still);
        const auto from = photograph(moving, longest_side_px);
        if (!from) return pass_on(from);
        const auto map = reduced_map(moving, reference, from->size(), still->size());
        if (!map) return pass_on(map);
        return imaging::resample(*from, *map, still->size());
    }

private:
    [[nodiscard]] Expected<imaging::PyramidReader> pyramid(const Uuid& photograph) const {
        const Record* record = snapshot_.find(photograph);
        if (record == nullptr) return fail("casebook.no-such-record", "There is no such photograph in the case.");
        const auto file = ensure_pyramid(folder_, record->body.text_or("sha256"));
        if (!file) return pass_on(file);
        return imaging::PyramidReader::open(*file);
    }

    // reference_from_moving between the reduced pictures, through the face's millimetres.
    [[nodiscard]] Expected<imaging::PixelMap> reduced_map(const Uuid& moving, const Uuid& reference, SizePx from,
                                                          SizePx to) const {
        const Record* a = snapshot_.find(moving);
        const Record* b = snapshot_.find(reference);
        if (a == nullptr || b == nullptr) {
            return fail("casebook.no-such-record", "There is no such photograph in the case.");
        }
        const auto frame = b->body.record("face_frame");
        const auto reference_place = b->body.placement("face_from_photo");
        // Canvas that moved between the two is laid back: the moving picture's place on the reference's own frame.
        const auto moving_place = frame ? casebook::placement_on_frame(snapshot_, *a, *frame) : std::nullopt;
        if (!moving_place || !reference_place) {
            return fail(
                "photograph.not-placed",
                "One of the two photographs is not placed, or canvas moved between them and nobody measured how.",
                "Place it, or lay it over the other first.");
        }
        const auto full = [](const Record* record) {
            return SizePx{static_cast<int>(record->body.integer("width_px").value_or(1)),
                          static_cast<int>(record->body.integer("height_px").value_or(1))};
        };
        const auto small_moving = of_smaller(*moving_place, full(a), from);
        if (!small_moving) return pass_on(small_moving);
        const auto small_reference = of_smaller(*reference_place, full(b), to);
        if (!small_reference) return pass_on(small_reference);
        return reference_from_moving(*small_reference, *small_moving, to);
    }

    const CaseSnapshot& snapshot_;
    std::filesystem::path folder_;
};

casebook::Act leaving(const CaseSnapshot& snapshot, Reader reader, PyramidPictures& pictures, Instant now) {
    const dossier::Extract extract = dossier::Extract::of(snapshot, reader);
    casebook::Act act;
    act.kind = "dossier";
    act.reader = reader;
    act.leaving_text = dossier::text_of(dossier::compose_document(extract, pictures, now));
    for (const Record* photo : extract.of_kind("photograph")) act.leaving_records.push_back(photo->id);
    // Beside the title, for every reader. The section on attribution prints the claims themselves.
    act.attribution = extract.picture().body.text_or("artist");
    act.says_unfinished = act.leaving_text.find("nfinished") != std::string::npos;
    return act;
}

}  // namespace

std::unique_ptr<dossier::PictureSource> pictures_of_case(const CaseSnapshot& snapshot,
                                                         const std::filesystem::path& book_folder) {
    return std::make_unique<PyramidPictures>(snapshot, book_folder);
}

Expected<Reader> parse_reader(std::string_view text) {
    const auto found = std::ranges::find_if(readers, [&](Reader reader) { return casebook::to_text(reader) == text; });
    if (found != readers.end()) return *found;
    std::vector<std::string> words;
    words.reserve(readers.size());
    for (const Reader reader : readers) words.emplace_back(casebook::to_text(reader));
    return fail("dossier.unknown-reader", fmt::format("\"{}\" is not a reader of dossiers.", text),
                fmt::format("Use one of {}.", join(words, ", ")));
}

Expected<std::vector<casebook::GateAnswer>> gates_before_dossier(const Acting& acting, const Uuid& case_id,
                                                                 Reader reader) {
    const auto snapshot = acting.book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    PyramidPictures pictures(*snapshot, acting.book.folder());
    return ask_gates(*snapshot, leaving(*snapshot, reader, pictures, acting.clock.now()));
}

namespace {

bool is_let_pass(const casebook::Requirement& requirement, const std::vector<Override>& overrides) {
    const auto code = [](const Override& wanted) { return wanted.requirement; };
    return !requirement.law && std::ranges::find(overrides, requirement.code, code) != overrides.end();
}

// What still closes the gate, as a refusal; what it warns of is put into the list.
Expected<void> pass_gate_22(const std::vector<casebook::GateAnswer>& answers, const std::vector<Override>& overrides,
                            std::vector<std::string>& warnings) {
    for (const casebook::GateAnswer& answer : answers) {
        for (const casebook::Requirement& requirement : answer.missing) {
            if (requirement.overridden_by || (requirement.closes && is_let_pass(requirement, overrides))) continue;
            if (requirement.closes) {
                return fail("gate.closed", requirement.message, requirement.opened_by,
                            {{"gate", fmt::format("{}", answer.gate)},
                             {"requirement", requirement.code},
                             {"sheet", requirement.sheet}});
            }
            warnings.push_back(requirement.message);
        }
    }
    return {};
}

// A name, a reason, and a field that there is: what only the finished files show the gate cannot have asked for.
Expected<void> check(const Override& wanted) {
    if (auto said = check_is_said(wanted); !said) return said;
    if (const auto named = casebook::field_of_leaving_code(wanted.requirement)) {
        const casebook::Kind* kind = casebook::find_kind(named->kind);
        if (kind != nullptr && kind->field(named->field) != nullptr) return {};
    }
    return fail("gate.nothing-to-override", "The gate does not ask for that.", "Ask the gate again.");
}

// The overrides name the picture as their act. No gate takes that for a later dossier: each is asked anew.
Expected<void> write_down(const Acting& acting, const Uuid& case_id, Reader reader,
                          const std::vector<Override>& overrides) {
    std::vector<casebook::Edit> edits;
    for (Override wanted : overrides) {
        if (auto checked = check(wanted); !checked) return checked;
        wanted.case_id = case_id;
        wanted.gate = 22;
        wanted.reason = fmt::format("{} (dossier for the {})", trimmed(wanted.reason), to_text(reader));
        auto edit = override_edit(acting, wanted);
        if (!edit) return pass_on(edit);
        edit->values.record("act", case_id);
        edits.push_back(*std::move(edit));
    }
    if (edits.empty()) return {};
    const auto made = acting.book.commit(acting.author, edits);
    if (!made) return pass_on(made);
    return {};
}

// The case as it stands once the gate let it pass and what was let pass is written down: one act, so that nothing that
// came in between leaves unasked.
Expected<CaseSnapshot> pass_and_read(const Acting& acting, const Uuid& case_id, Reader reader,
                                     const std::vector<Override>& overrides, std::vector<std::string>& warnings) {
    const auto before = acting.book.snapshot(case_id);
    if (!before) return pass_on(before);
    PyramidPictures pictures(*before, acting.book.folder());
    const auto answers = ask_gates(*before, leaving(*before, reader, pictures, acting.clock.now()));
    if (auto passed = pass_gate_22(answers, overrides, warnings); !passed) return pass_on(passed);
    if (overrides.empty()) return *before;
    if (auto written = write_down(acting, case_id, reader, overrides); !written) return pass_on(written);
    return acting.book.snapshot(case_id);
}

}  // namespace

Expected<WrittenDossier> write_case_dossier(const Acting& acting, const Uuid& case_id, Reader reader,
                                            const std::filesystem::path& out, const Progress& progress,
                                            const std::vector<Override>& overrides) {
    dossier::require_gui_application();
    WrittenDossier written;
    const auto read = [&] { return pass_and_read(acting, case_id, reader, overrides, written.warnings); };
    const auto snapshot = overrides.empty() ? read() : acting.book.in_one_act(read);
    if (!snapshot) return pass_on(snapshot);
    const auto heads = acting.book.heads();
    if (!heads) return pass_on(heads);
    PyramidPictures pictures(*snapshot, acting.book.folder());
    dossier::DossierRequest request;
    request.reader = reader;
    request.heads = *heads;
    request.now = acting.clock.now();
    request.out = out;

    for (const Override& wanted : overrides) {
        if (auto field = casebook::field_of_leaving_code(wanted.requirement)) request.leaks_accepted.insert(*field);
    }
    written.newest = snapshot->picture.last_written;
    written.records = snapshot->records.size();
    for (const Record& record : snapshot->records) written.newest = std::max(written.newest, record.last_written);
    const auto files = dossier::write_dossier(*snapshot, request, pictures, progress);
    if (!files) return pass_on(files);
    written.pdf = files->pdf;
    written.bag = files->bag;
    written.pages = files->pages;
    return written;
}

}  // namespace tedge::usecases
