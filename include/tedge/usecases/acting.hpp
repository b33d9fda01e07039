// Who acts, on which book: what every use case is given.
#pragma once

#include "tedge/casebook/casebook.hpp"

namespace tedge::usecases {

struct Acting {
    casebook::Casebook& book;
    Uuid author;  // a person's record
    Clock& clock;
};

}  // namespace tedge::usecases
