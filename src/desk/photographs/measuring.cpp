#include "photographs/measuring.hpp"

namespace tedge::desk {

Measuring::Measuring(QObject* parent) : QObject(parent) {
    connect(&work_, &LongWork::progress, this, &Measuring::progress);
    connect(&work_, &LongWork::finished, this, &Measuring::finished);
}

void Measuring::begin(const BookSession::Opened& how, std::vector<Uuid> photographs, MeasureOne measure) {
    work_.begin([this, how, photographs = std::move(photographs), measure = std::move(measure)](
                    const Progress& progress) { work(how, photographs, measure, progress); });
}

void Measuring::work(const BookSession::Opened& how, const std::vector<Uuid>& photographs, const MeasureOne& measure,
                     const Progress& progress) {
    auto opened = open_for_worker(how);
    const double count = static_cast<double>(photographs.size());
    for (std::size_t i = 0; i < photographs.size() && !progress.stopped(); ++i) {
        const Uuid id = photographs[i];
        const double at = static_cast<double>(i);
        work_.tell(
            [this, i, of = photographs.size(), id] { emit begun(static_cast<int>(i), static_cast<int>(of), id); });
        const auto result = opened ? measure({opened->book, opened->author, *how.clock}, id,
                                             progress.part(at / count, (at + 1) / count))
                                   : Expected<Measured>(pass_on(opened));
        if (result) {
            work_.tell([this, id, m = *result] { emit measured(id, m); });
        } else if (result.error().code != "cancelled") {
            work_.tell([this, id, e = result.error()] { emit refused(id, e); });
        }
    }
}

}  // namespace tedge::desk
