// SPDX-License-Identifier: GPL-3.0-or-later
// A choice of several: a button that says what is chosen ("Zone: all") and opens a list to tick.
// Nothing ticked means all. Mouse, Space and Enter tick; Escape closes.
#pragma once

#include <QPushButton>
#include <QVariant>

class QListWidget;
class QListWidgetItem;

namespace keyround {

class ChoiceButton final : public QPushButton
{
    Q_OBJECT
public:
    struct Option
    {
        QString words;
        QVariant value;
    };
    explicit ChoiceButton(const QString &name, QWidget *parent = nullptr);

    /// What was ticked stays ticked where it is still offered.
    void setOptions(const QList<Option> &options);
    [[nodiscard]] QVariantList chosen() const;
    void clear();
    [[nodiscard]] QListWidget *list() const { return m_list; }

    bool eventFilter(QObject *watched, QEvent *event) override;

protected:
    void resizeEvent(QResizeEvent *event) override;

Q_SIGNALS:
    void changed();

private:
    void open();
    void toggle(QListWidgetItem *item);
    void refreshText();

    QString m_name;
    QWidget *m_popup;
    QListWidget *m_list;
};

} // namespace keyround
