// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's own fields, each editable in place. Return or leaving a field stores it as an
// undoable change with who and when; what cannot be understood is refused beside the field.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"
#include "core/inventory/valve_fields.h"

#include <QMap>
#include <QWidget>

class QComboBox;

namespace keyround {

class CheckedLine;
class Session;

class ValveFieldsForm final : public QWidget
{
    Q_OBJECT
public:
    explicit ValveFieldsForm(Session &session, QWidget *parent = nullptr);

    void showValve(const ValveId &valve);
    /// Null for the fields that are chosen from a list.
    [[nodiscard]] CheckedLine *line(ValveField field) const { return m_lines.value(field); }
    [[nodiscard]] QComboBox *choice(ValveField field) const { return m_choices.value(field); }

private:
    void addField(ValveField field);
    void fill(bool anotherValve);
    [[nodiscard]] Status store(ValveField field, const QString &text);

    Session &m_session;
    ValveId m_valve;
    QMap<ValveField, CheckedLine *> m_lines;
    QMap<ValveField, QComboBox *> m_choices;
};

} // namespace keyround
