// Keeping the map of colour differences that is on the easel.
#include <QLabel>
#include <QPushButton>

#include "photographs/difference_bar.hpp"
#include "text.hpp"

namespace tedge::desk {

void DifferenceBar::keep() {
    if (!shown_ || keeping_.running()) return;
    keep_->setEnabled(false);
    say_of_keeping(tr("Keeping it …"), "plain");
    // Written off the window's thread: a map has up to nine million pixels.
    keeping_.begin([this, how = session_.how(), shown = shown_](const Progress&) {
        auto opened = open_for_worker(how);
        const auto kept = opened ? usecases::keep_colour_difference({opened->book, opened->author, *how.clock},
                                                                    shown->reference, shown->second, shown->map)
                                 : Expected<usecases::KeptPicture>(pass_on(opened));
        keeping_.tell([this, shown, kept] {
            if (kept && !kept->already) session_.did(kept->done, tr("keeping a difference"));
            if (shown != shown_) return;  // another is in sight by now
            if (kept) return show_kept(*kept);
            say_of_keeping(QStringLiteral("⊘ ") + desk::shown(kept.error().message + " " + kept.error().next),
                           "closed");
        });
    });
}

void DifferenceBar::show_kept(const usecases::KeptPicture& picture) {
    kept_ = picture.done.record;
    say_of_keeping(picture.already ? tr("The case has this very picture already.") : tr("Kept with the photographs."),
                   "done");
}

void DifferenceBar::finish_keeping() {
    keep_->setEnabled(true);
}

void DifferenceBar::show_case(const casebook::CaseSnapshot& snapshot) {
    if (!kept_ || snapshot.find(*kept_) != nullptr) return;
    kept_.reset();
    say_of_keeping({}, "plain");
}

}  // namespace tedge::desk
