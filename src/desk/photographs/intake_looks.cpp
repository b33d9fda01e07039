#include "photographs/intake_looks.hpp"

#include <QMetaObject>
#include <algorithm>

#include "photographs/small_pictures.hpp"
#include "tedge/usecases/photograph_look.hpp"

namespace tedge::desk {

namespace {

IntakeLook look_at(const std::filesystem::path& file, const std::stop_token& stop) {
    IntakeLook out{.file = file, .character = {}, .taken_at = {}, .small = {}};
    const auto look = usecases::look_at_photograph(file, usecases::Damaged::kept, Progress(stop, {}));
    if (!look) return out;
    out.character = look->character;
    if (look->probe) out.taken_at = look->probe->metadata.captured_at;
    if (look->character) out.small = to_image(look->small);
    return out;
}

}  // namespace

IntakeLooks::IntakeLooks(QObject* parent) : QObject(parent) {
    pool_.setMaxThreadCount(1);  // a large picture needs much memory while it is decoded
}

IntakeLooks::~IntakeLooks() {
    stop_.request_stop();
    pool_.waitForDone();
}

void IntakeLooks::forget() {
    stop_.request_stop();
    pool_.waitForDone();
    stop_ = std::stop_source();
    asked_.clear();
    waiting_.clear();
    is_looking_ = false;
}

void IntakeLooks::ask_for(const std::filesystem::path& file, When when) {
    const bool is_new = asked_.insert(file).second;
    const auto queued = std::ranges::find(waiting_, file);
    if (!is_new && (when == When::later || queued == waiting_.end())) return;
    if (queued != waiting_.end()) waiting_.erase(queued);
    if (when == When::soon) {
        waiting_.push_front(file);
    } else {
        waiting_.push_back(file);
    }
    begin_next();
}

void IntakeLooks::begin_next() {
    if (is_looking_ || waiting_.empty()) return;
    is_looking_ = true;
    const std::filesystem::path file = waiting_.front();
    waiting_.pop_front();
    pool_.start([this, file, stop = stop_.get_token()] {
        const IntakeLook found = look_at(file, stop);
        QMetaObject::invokeMethod(this, [this, found, stop] {
            if (stop.stop_requested()) return;
            is_looking_ = false;
            emit arrived(found);
            begin_next();
        });
    });
}

}  // namespace tedge::desk
