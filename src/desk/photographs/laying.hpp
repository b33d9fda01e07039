// Laying photographs over one that is placed, one after the other, while work goes on.
#pragma once

#include <vector>

#include "long_work.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::desk {

class Laying : public QObject {
    Q_OBJECT

public:
    explicit Laying(QObject* parent = nullptr);
    void begin(const BookSession::Opened& how, const Uuid& reference, std::vector<Uuid> moving);
    void cancel() { work_.cancel(); }
    [[nodiscard]] bool running() const { return work_.running(); }

signals:
    void begun(int index, int of, const tedge::Uuid& photograph);
    void progress(double fraction, const QString& what);  // of all of them
    void laid(const tedge::Uuid& photograph, const tedge::usecases::RegisteredPhotograph& result);
    void refused(const tedge::Uuid& photograph, const tedge::Error& error);
    void finished(bool was_cancelled);

private:
    void work(const BookSession::Opened& how, const Uuid& reference, const std::vector<Uuid>& moving,
              const Progress& progress);
    LongWork work_;
};

// What may be laid over what, from where somebody stands: in the order in which it is offered.
struct LayingChoice {
    QString text;
    Uuid reference;
    std::vector<Uuid> moving;
};
[[nodiscard]] std::vector<LayingChoice> laying_choices(const casebook::CaseSnapshot& snapshot, const Uuid& shown,
                                                       const std::vector<Uuid>& chosen);

// "as-received, raking"
[[nodiscard]] QString name_of(const casebook::Record& photograph);  // or of a picture made from some

}  // namespace tedge::desk
