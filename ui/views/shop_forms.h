// "My machine" and "my rates": the shop's files as drawn forms.
#pragma once

#include "job/column.h"
#include "ui/models/order_book.h"
#include "ui/views/shop_form.h"

namespace pommel::ui {

/// The machine of the order. REQUIRES: book outlives the form.
ShopForm* machine_form(ShopBook& book, const job::Loaded& loaded, QWidget* parent);
/// `quote`: of the order, to show what each rate goes into; nullptr where it is not worked out.
ShopForm* rates_form(ShopBook& book, const job::Loaded& loaded, const quote::Quote* quote, QWidget* parent);

}  // namespace pommel::ui
