// What a dossier takes time for: asking the gate, making pages and bag, keeping them elsewhere, printing. Each off the
// thread of the window.
#pragma once

#include <QString>
#include <memory>
#include <vector>

#include "forms/gate_notice.hpp"
#include "long_work.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/usecases/dossiers.hpp"

class QPrinter;
class QTemporaryDir;

namespace tedge::desk {

inline constexpr double points_per_inch = 72;

// Pages and bag of one reader as they were made, in a folder of their own that goes when nobody holds them any more.
// What was looked at is what is kept and printed.
struct MadeDossier {
    std::shared_ptr<QTemporaryDir> folder;
    usecases::WrittenDossier files;
    casebook::Reader reader = casebook::Reader::buyer;
};

// What gate 22 misses and nobody let pass, the closing ones first.
[[nodiscard]] Expected<std::vector<InTheWay>> missing_before(const BookSession::Opened& how, const Uuid& case_id,
                                                             casebook::Reader reader);

[[nodiscard]] Expected<MadeDossier> make_dossier(const BookSession::Opened& how, const Uuid& case_id,
                                                 casebook::Reader reader, const Progress& progress,
                                                 const std::vector<usecases::Override>& overrides = {});

// A copy of the PDF under the name chosen. Errors: those of files.hpp.
[[nodiscard]] Expected<void> keep_pdf(const MadeDossier& made, const std::filesystem::path& file);

// A copy of the bag as a folder of that name: there in full or not at all. Errors: dossier.exists, those of files.hpp,
// "cancelled".
[[nodiscard]] Expected<void> keep_bag(const MadeDossier& made, const std::filesystem::path& folder,
                                      const Progress& progress);

// Every page wanted on a sheet of its own, as large as the printer's paper allows. Errors: print.no-pages,
// print.refused, "cancelled".
[[nodiscard]] Expected<int> print_pages(const std::filesystem::path& pdf, QPrinter& printer, const Progress& progress);

}  // namespace tedge::desk
